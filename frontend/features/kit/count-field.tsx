import { useState } from 'preact/hooks';
import { TextField, useDraft } from '../../ui';
import { readCount, type CountQuestion } from '../../ui/needs';
import type { NeedsNoted, Visit } from '../../lib/model.gen';

/** Says one thing of the needs, or takes it back where it is empty; resolves to whether it was saved. */
export type Note = (what: string, part: { readonly [Field in keyof NeedsNoted]?: NeedsNoted[Field] | undefined }) => Promise<boolean>;

/** A number of the needs; blank is not known. */
export function CountField(props: { readonly visit: Visit; readonly question: CountQuestion; readonly note: Note }) {
  const { question, note } = props;
  const stored = props.visit.needs?.[question.field];
  const draft = useDraft(
    { about: props.visit.id, name: `needs ${question.field}`, title: question.words },
    stored === undefined ? '' : String(stored),
  );
  const [error, setError] = useState<string | undefined>(undefined);
  const commit = async (typed: string) => {
    const read = readCount(question, typed);
    setError('error' in read ? read.error : undefined);
    if ('error' in read) return;
    const value = read.value ?? undefined;
    draft.set(value === undefined ? '' : String(value));
    if (value !== stored && (await note(question.words, { [question.field]: value }))) draft.saved(draft.now());
  };
  return (
    <TextField
      label={`${question.words} (${question.unit})`}
      hint={question.hint}
      inputMode={question.low < 0 ? 'text' : 'decimal'}
      error={error}
      value={draft.value}
      suggestions={question.often}
      onInput={draft.set}
      onCommit={(typed) => void commit(typed)}
    />
  );
}
