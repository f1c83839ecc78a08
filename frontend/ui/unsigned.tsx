import { useState } from 'preact/hooks';
import { AreaField, Button, CheckField, Form, More, SavedLine, timeWords, useSave } from '.';
import { api } from '../lib';
import type { ConfirmRequest, QuarantineRow } from '../lib/model.gen';
import { itemOf } from '../lib/records/item-of';
import { EntryAbout } from './entry-about';
import { countWords, kindWords } from './words';

/** When an entry was written and the item that it is about, as it says itself; empty where it cannot be read. */
export function readEntry(raw: string): { readonly at: string; readonly item: string } {
  try {
    const { at, body } = JSON.parse(raw) as { readonly at?: unknown; readonly body?: unknown };
    return { at: typeof at === 'string' ? at : '', item: itemOf(body) };
  } catch {
    return { at: '', item: '' };
  }
}

function labelOf(kind: string, at: string): string {
  const what = kind === '' ? 'An entry that can not be read' : kindWords(kind);
  return at === '' ? what : `${what}, written ${timeWords(at)}`;
}

function Tick(props: { readonly entry: QuarantineRow; readonly ticked: boolean; readonly onTick: (on: boolean) => void }) {
  const { kind, raw, subject } = props.entry;
  const { at, item } = readEntry(raw);
  return (
    <li>
      <CheckField label={labelOf(kind, at)} checked={props.ticked} onChange={props.onTick} />
      <EntryAbout subject={subject} item={item} />
      <More summary="The entry as it came">
        <pre class="raw">{raw}</pre>
      </More>
    </li>
  );
}

/** Entries of one tablet that came unsigned and wait for somebody's word; a lead gives a reason. */
export function ConfirmUnsigned(props: {
  readonly entries: readonly QuarantineRow[];
  /** What the button says. */
  readonly action: string;
  readonly withReason?: boolean;
  readonly onConfirmed: () => void;
}) {
  const { entries } = props;
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set());
  const [reason, setReason] = useState('');
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  const tick = (id: string, on: boolean) => {
    const next = new Set(ticked);
    if (on) next.add(id);
    else next.delete(id);
    setTicked(next);
  };
  const confirm = async () => {
    if (props.withReason && reason.trim() === '') return setError('How you know it: write a sentence, such as “she told me on 3 March”.');
    setError(undefined);
    const body: ConfirmRequest = {
      entries: entries.filter((one) => ticked.has(one.id)).map((one) => one.id),
      ...(props.withReason ? { reason: reason.trim() } : {}),
    };
    if (await saver.save('confirmed', () => api('POST', '/api/v1/quarantine/confirm', body))) props.onConfirmed();
  };
  return (
    <Form onSave={confirm}>
      <Button onPress={() => setTicked(new Set(entries.map((one) => one.id)))}>
        Tick all {countWords(entries.length, 'entry', 'entries')}
      </Button>
      <ul class="plain-list">
        {entries.map((one) => (
          <Tick key={one.id} entry={one} ticked={ticked.has(one.id)} onTick={(on) => tick(one.id, on)} />
        ))}
      </ul>
      {props.withReason ? <AreaField label="How you know it" rows={2} value={reason} onInput={setReason} error={error} /> : null}
      <Button kind="main" type="submit" disabled={ticked.size === 0}>
        {props.action}
      </Button>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </Form>
  );
}

/** Entries that the caller may confirm, by the tablet that they name: only those of one tablet go together. */
export function byTablet(entries: readonly QuarantineRow[]): readonly (readonly QuarantineRow[])[] {
  const groups = new Map<string, QuarantineRow[]>();
  for (const one of entries) if (one.confirm && !one.settled) groups.set(one.tablet, [...(groups.get(one.tablet) ?? []), one]);
  return [...groups.values()];
}
