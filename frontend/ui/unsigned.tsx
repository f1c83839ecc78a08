import { useState } from 'preact/hooks';
import { AreaField, Button, CheckField, Form, More, SavedLine, timeWords, useDraft, useSave } from '.';
import { api } from '../lib';
import type { ConfirmRequest, QuarantineRow } from '../lib/model.gen';
import { RawEntryAbout, saidBy } from './entry-about';
import { countWords, kindWords } from './words';

const NONE: readonly string[] = [];

function labelOf({ kind, raw }: QuarantineRow): string {
  const at = saidBy(raw)?.at ?? '';
  const what = kind === '' ? 'An entry that can not be read' : kindWords(kind);
  return at === '' ? what : `${what}, written ${timeWords(at)}`;
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
  const draft = useDraft(
    { about: 'set-aside', name: `confirm ${entries[0]?.tablet ?? ''}`, title: 'Confirming entries that came unsigned' },
    { ticked: NONE, reason: '' },
  );
  const { reason } = draft.value;
  const ticked = new Set(draft.value.ticked);
  const setReason = (text: string) => draft.set((now) => ({ ...now, reason: text }));
  const setTicked = (ids: Iterable<string>) => draft.set((now) => ({ ...now, ticked: [...ids] }));
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
    if (!(await saver.save('confirmed', () => api('POST', '/api/v1/quarantine/confirm', body)))) return;
    draft.drop();
    props.onConfirmed();
  };
  return (
    <Form onSave={confirm} draft={draft}>
      <Button onPress={() => setTicked(entries.map((one) => one.id))}>Tick all {countWords(entries.length, 'entry', 'entries')}</Button>
      <ul class="plain-list">
        {entries.map((one) => (
          <li key={one.id}>
            <CheckField label={labelOf(one)} checked={ticked.has(one.id)} onChange={(on) => tick(one.id, on)} />
            <RawEntryAbout raw={one.raw} />
            <More summary="The entry as it came">
              <pre class="raw">{one.raw}</pre>
            </More>
          </li>
        ))}
      </ul>
      {props.withReason ? <AreaField label="How you know it" rows={2} value={reason} onInput={setReason} error={error} /> : null}
      <Button kind="main" type="submit" disabled={!entries.some((one) => ticked.has(one.id))}>
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
