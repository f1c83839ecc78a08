import { useState } from 'preact/hooks';
import { Banner, Button, Dialog, More, SavedLine, SyncBadge, TabPanel, Tabs, type BannerTone } from '../../ui';
import { Facts, Table } from '../../ui/part';
import { ToastBox } from '../../ui/toast';
import type { VisitSync } from '../../lib';
import { Shelf } from './shelf';

const tones: readonly BannerTone[] = ['note', 'caution', 'stop', 'done'];
const standings: readonly VisitSync[] = ['here', 'waiting', 'sent', 'choice'];
const ignore = (): void => undefined;

function Asking() {
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button onPress={() => setOpen(true)}>Ask</Button>
      <Dialog
        title="2500?"
        open={open}
        onClose={() => setOpen(false)}
        actions={
          <Button kind="main" onPress={() => setOpen(false)}>
            It is 250
          </Button>
        }
      >
        <p>The others are near 250.</p>
      </Dialog>
    </>
  );
}

/** What tells something. */
export function TellParts(props: { readonly theme: string }) {
  const [tab, setTab] = useState(`force-${props.theme}`);
  const tabs = ['force', 'travel', 'holding'].map((one, at) => ({ id: `${one}-${props.theme}`, label: one, count: at }));
  return (
    <>
      <Shelf title="Messages">
        {tones.map((tone) => (
          <Banner key={tone} tone={tone}>
            <p>62 and 124 lie far apart. Rest, then two more.</p>
          </Banner>
        ))}
      </Shelf>
      <Shelf title="What was kept">
        <ToastBox kept={{ what: 'Reversing straight', as: '2 Words', undo: () => Promise.resolve(), within: '/' }} onUndo={ignore} />
        <ToastBox kept={{ what: 'Reversing straight', within: '/', failed: 'The disk is full.' }} onUndo={ignore} />
        <SavedLine state={{ kind: 'saving' }} />
        <SavedLine state={{ kind: 'saved', what: 'Reversing straight, 2' }} />
        <SavedLine state={{ kind: 'failed', message: 'The disk is full.' }} />
      </Shelf>
      <Shelf title="Whether it was sent">
        {standings.map((state) => (
          <SyncBadge key={state} state={state} />
        ))}
      </Shelf>
      <Shelf title="Tabs, folds, questions">
        <Tabs label="Measures" tabs={tabs} value={tab} onChange={setTab} />
        <TabPanel id={tab}>What the chosen tab shows.</TabPanel>
        <More summary="Why, and what to do">
          <p>A tap away.</p>
        </More>
        <Asking />
      </Shelf>
      <Shelf title="Figures">
        <Facts
          rows={[
            ['Site', 'right hand'],
            ['Reserve, tired', '1.8 times'],
          ]}
        />
        <Table caption="Force by direction" heads={['Direction', 'Rested', 'Tired']}>
          <tr>
            <th scope="row">Forward</th>
            <td class="num">640 gf</td>
            <td class="num">560 gf</td>
          </tr>
          <tr>
            <th scope="row">Reverse</th>
            <td class="num">138 gf</td>
            <td class="num">92 gf</td>
          </tr>
        </Table>
      </Shelf>
    </>
  );
}
