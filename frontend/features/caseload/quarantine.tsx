import { useState } from 'preact/hooks';
import { AreaField, Button, Form, More, SavedLine, timeWords, useDraft, useSave } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { RawEntryAbout } from '../../ui/entry-about';
import { byTablet, ConfirmUnsigned } from '../../ui/unsigned';
import { personName, countWords, kindWords } from '../../ui/words';
import { api, session } from '../../lib';
import { fieldWords } from '../../lib/errors';
import type { QuarantineList, QuarantineRow, SettleRequest } from '../../lib/model.gen';

/** Entries that the server keeps but does not count, each with its reason. */
export function SetAside(props: { readonly team: string; readonly onDealt: () => void }) {
  const ofTeam = `/api/v1/teams/${encodeURIComponent(props.team)}/quarantine`;
  // What is dealt with in one list belongs in another from then on.
  const [dealt, setDealt] = useState(0);
  const onDealt = () => {
    setDealt(dealt + 1);
    props.onDealt();
  };
  return (
    <>
      <p>
        Nothing is thrown away. These entries came from your team’s tablets and do not count yet. Each says why: it has to be entered again,
        waits until the server can read it, or waits until somebody confirms that they are right.
      </p>
      <Entries path={ofTeam} state="open" none="Nothing is set aside." onDealt={onDealt} />
      <More summary="Settled, or taken in later">
        <Entries key={dealt} path={ofTeam} state="closed" none="Nothing was settled yet." onDealt={onDealt} />
      </More>
      <More summary="Your own, also from teams that you have left">
        <Entries key={dealt} path="/api/v1/quarantine" state="open" none="Nothing of yours is set aside." onDealt={onDealt} />
      </More>
    </>
  );
}

/** How many entries are shown at a time. */
const PAGE = 50;

/** A list page by page, the oldest first. */
function Entries(props: { readonly path: string; readonly state: 'open' | 'closed'; readonly none: string; readonly onDealt: () => void }) {
  const [after, setAfter] = useState('0');
  const { got, again } = useFetch<QuarantineList>(`${props.path}?state=${props.state}&after=${after}&limit=${PAGE}`);
  // What is the lead's own is confirmed under “This tablet”, like anybody's.
  const me = session.value?.person.id;
  const changed = () => {
    again();
    props.onDealt();
  };
  return (
    <Fetched got={got} again={again} what="what was set aside">
      {(page) => (
        <>
          {page.entries.length === 0 ? <p>{after === '0' ? props.none : 'There are no more.'}</p> : null}
          {byTablet(page.entries.filter((entry) => entry.author !== me)).map((entries) => (
            <Unsigned key={entries[0]?.tablet} entries={entries} onConfirmed={changed} />
          ))}
          <ul class="plain-list">
            {page.entries.map((entry) => (
              <Entry key={entry.id} entry={entry} onSettled={changed} />
            ))}
          </ul>
          {page.more ? <Button onPress={() => setAfter(page.next)}>Show the next {PAGE}</Button> : null}
          {after === '0' ? null : <Button onPress={() => setAfter('0')}>Back to the oldest</Button>}
        </>
      )}
    </Fetched>
  );
}

/** What came unsigned in the name of somebody who can no longer be asked. */
function Unsigned(props: { readonly entries: readonly QuarantineRow[]; readonly onConfirmed: () => void }) {
  const [first] = props.entries;
  if (first === undefined) return null;
  return (
    <section class="refused" data-about={first.tablet}>
      <h2 class="refused-title">
        {countWords(props.entries.length, 'unsigned entry', 'unsigned entries')} in the name of {personName(first.author)}
      </h2>
      <p>
        They came in a file that no tablet of {personName(first.author)} signed, so somebody else could have written them.{' '}
        {personName(first.author)} has left your team and cannot confirm them. If you know that they wrote these, say how you know it, and
        the entries count.
      </p>
      <ConfirmUnsigned entries={props.entries} action="They wrote these: count them" withReason onConfirmed={props.onConfirmed} />
    </section>
  );
}

function Entry(props: { readonly entry: QuarantineRow; readonly onSettled: () => void }) {
  const { entry } = props;
  return (
    <li class="refused" data-about={entry.id}>
      <h2 class="refused-title">
        {entry.kind === '' ? 'An entry that can not be read' : kindWords(entry.kind)}, from {personName(entry.author)}
      </h2>
      <p>{entry.hint}</p>
      <p class="quiet-line">Received {timeWords(entry.received)}.</p>
      <RawEntryAbout raw={entry.raw} />
      {entry.client === '' ? null : (
        <a class="link-row" href={`/caseload?client=${entry.client}`}>
          Its client in the caseload
        </a>
      )}
      <More summary="The entry as it came">
        <p class="quiet-line">
          {fieldWords(entry.field) === '' ? '' : `Field: ${fieldWords(entry.field)}. `}
          {entry.want === '' ? '' : `Expected: ${entry.want}.`}
        </p>
        <pre class="raw">{entry.raw}</pre>
      </More>
      <Dealt entry={entry} onSettled={props.onSettled} />
    </li>
  );
}

/** What was done with an entry, or how to say so. */
function Dealt(props: { readonly entry: QuarantineRow; readonly onSettled: () => void }) {
  const { entry } = props;
  if (entry.placed) return <p>Taken in {timeWords(entry.placed)}; it counts from then on.</p>;
  if (!entry.settled) return <Settle id={entry.id} onSettled={props.onSettled} />;
  return (
    <p>
      {entry.confirmed ? 'Confirmed' : 'Settled'} {timeWords(entry.settled)} by {personName(entry.settled_by ?? '')}
      {entry.note ? `: ${entry.note}` : '.'}
    </p>
  );
}

function Settle(props: { readonly id: string; readonly onSettled: () => void }) {
  const draft = useDraft({ about: 'caseload', name: `settle ${props.id}`, title: 'What was done about an entry that was set aside' }, '');
  const { value: note, set: setNote } = draft;
  const [open] = useState(draft.unsaved);
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  const settle = async () => {
    if (note.trim() === '') return setError('What was done: write a sentence, such as “entered again on 3 March”.');
    setError(undefined);
    const body: SettleRequest = { note: note.trim() };
    if (!(await saver.save('settled', () => api('POST', `/api/v1/quarantine/${encodeURIComponent(props.id)}/settle`, body)))) return;
    draft.drop();
    props.onSettled();
  };
  return (
    <More summary="Settle it" open={open}>
      <Form onSave={settle} draft={draft}>
        <AreaField label="What was done" rows={2} value={note} onInput={setNote} error={error} />
        <Button kind="main" type="submit">
          Settle
        </Button>
        {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
      </Form>
    </More>
  );
}
