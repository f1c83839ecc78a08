import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { Client } from '../model.gen';
import { Banner, Button, Dialog, SavedLine, Segments, useSave } from '../parts';
import { checklists, newId, write } from '../store';

const UNITS = [
  { value: 'gf', label: 'gf', text: 'gram-force' },
  { value: 'N', label: 'N', text: 'newton' },
  { value: 'ozf', label: 'ozf', text: 'ounce-force' },
  { value: 'lbf', label: 'lbf', text: 'pound-force' },
] as const;

/** Starts a visit with the current checklist; the gauge's unit is chosen once and then stays. */
export function StartVisit(props: { readonly client: Client; readonly open: boolean; readonly onClose: () => void }) {
  const { route } = useLocation();
  const [unit, setUnit] = useState('gf');
  const saver = useSave();
  const checklist = checklists.value.find((one) => one.current);
  const start = async () => {
    if (!checklist || saver.state.kind === 'saving') return;
    const id = newId();
    const body = {
      client: props.client.id,
      team: props.client.team,
      checklist: { id: checklist.id, version: checklist.version, hash: checklist.hash },
      unit,
    };
    if (await saver.save('visit', () => write('visit-started', id, body))) route(`/visits/${id}`);
  };
  return (
    <Dialog
      title="Start a visit" open={props.open} onClose={props.onClose}
      actions={<Button kind="main" size="big" disabled={!checklist} onPress={() => void start()}>Start</Button>}
    >
      <Banner tone="caution" title="Before any driving">Someone has a working way to stop the chair, speed is at its lowest, stairs and edges are blocked, feet and hands are inside, and the person agrees.</Banner>
      <Segments legend="Unit that the force gauge shows" value={unit} options={UNITS} onChange={setUnit} />
      {checklist
        ? <p class="quiet-line">Checklist: {checklist.title}, version {checklist.version}.</p>
        : <Banner tone="note">No checklist is on this tablet yet. It arrives with the first send and fetch.</Banner>}
      <SavedLine state={saver.state} />
    </Dialog>
  );
}
