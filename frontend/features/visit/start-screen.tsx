import { goTo } from '../../ui/address';
import { useMemo, useRef, useState } from 'preact/hooks';
import { Banner, Button, ChoiceRows, Form, Page, SelectField, dateWords, useSave } from '../../ui';
import { personName } from '../../ui/words';
import { checklists, kit, newId, openClient, session, write, type ChecklistCard } from '../../lib';
import { NotHere } from '../../ui/team-download';
import { forceUnits, unitName } from '../../ui/units';
import { CAUTIONS } from '../../ui/result/cautions';
import { ratable } from '../../lib/records/second-rating';
import { links } from '../../ui/visit/links';
import { packKit } from '../../lib/records/pack-kit';
import { mayWrite, roleIn } from '../../lib/records/visit-writer';

function nameOf(card: ChecklistCard): string {
  return `${card.title}, ${card.version}${card.current ? '' : ' (older)'}`;
}

/** Starts a visit: the gauge's unit, locked for the visit, and the checklist, the newest one unless chosen otherwise. The team's kit is packed as it is now. */
export function StartVisitScreen(props: { readonly id: string }) {
  const view = useMemo(() => openClient(props.id), [props.id]).value;
  const [unit, setUnit] = useState('');
  const [hash, setHash] = useState('');
  const [first, setFirst] = useState('');
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  /** The visit, once it is on this tablet: pressing again only packs the kit. */
  const started = useRef('');
  const cards = checklists.value;
  const firsts = ratable(view?.visits ?? [], session.value?.person.id ?? '');
  // The second rater answers the first one's questions.
  const pinned = firsts.find((one) => one.id === first)?.checklist ?? hash;
  const card = cards.find((one) => one.hash === pinned) ?? cards.find((one) => one.current) ?? cards[0];
  const start = async () => {
    if (unit === '') return setError('Expected the unit that the gauge shows, got none.');
    if (!view || !card || saver.busy()) return;
    const visit = newId();
    const body = {
      client: view.client.id,
      team: view.client.team,
      unit,
      checklist: { id: card.id, version: card.version, hash: card.hash },
      ...(first === '' ? {} : { second_of: first }),
    };
    const packed = packKit(kit.value, view.client.team);
    const done = await saver.save('the new visit', async () => {
      if (started.current === '') {
        await write('visit-started', visit, body);
        started.current = visit;
      }
      if (packed.controls.length > 0) await write('kit-packed', started.current, packed);
    });
    if (done) goTo(links.map(started.current));
  };
  const may = view !== null && mayWrite(roleIn(view.client.team), 'visit-started');
  return (
    <Page title="Start a visit" back={{ href: links.client(props.id), label: 'The client' }} over={view?.client.name}>
      <Banner tone="caution">
        <p>{CAUTIONS[2]}</p>
        <p>{CAUTIONS[3]}</p>
      </Banner>
      {view === null ? <NotHere /> : null}
      {view !== null && !may ? <Banner tone="note">A clinician or the lead of the team starts a visit.</Banner> : null}
      {may ? (
        <Form onSave={start} state={saver.state}>
          <ChoiceRows
            legend="Which unit does the gauge show? It stays the same for the whole visit."
            value={unit}
            error={error}
            options={forceUnits.map((one) => ({ value: one, label: one, text: unitName(one) }))}
            onChange={(value) => {
              setUnit(value);
              setError(undefined);
            }}
          />
          {firsts.length > 0 ? (
            <SelectField
              label="Second rater of the visit of"
              value={first}
              onChange={setFirst}
              hint="To see how far two therapists agree: you rate the same trial, live or from a video, and neither sees the other’s visit until both are signed."
              options={[
                { value: '', label: 'nobody: this is a visit of its own' },
                ...firsts.map((one) => ({ value: one.id, label: `${personName(one.startedBy)}, ${dateWords(one.startedAt)}` })),
              ]}
            />
          ) : null}
          {card === undefined ? (
            <Banner tone="caution">There is no checklist on this tablet yet. Sign in once with a network.</Banner>
          ) : cards.length > 1 && first === '' ? (
            <SelectField
              label="Checklist"
              value={card.hash}
              options={cards.map((one) => ({ value: one.hash, label: nameOf(one) }))}
              onChange={setHash}
            />
          ) : (
            <p>
              Checklist: <strong>{nameOf(card)}</strong>
            </p>
          )}
          <div class="actions">
            <Button type="submit" kind="main" size="big" disabled={card === undefined}>
              Start the visit
            </Button>
          </div>
        </Form>
      ) : null}
    </Page>
  );
}
