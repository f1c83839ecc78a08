import { useState } from 'preact/hooks';
import { TextField } from '../../ui';
import { useTyped } from '../../ui/typed';
import { readCount, type CountQuestion } from '../../ui/needs';
import type { NeedsNoted, Visit } from '../../lib/model.gen';

/** Says one thing of the needs, or takes it back where it is empty. */
export type Note = (what: string, part: { readonly [Field in keyof NeedsNoted]?: NeedsNoted[Field] | undefined }) => void;

/** A number of the needs; blank is not known. */
export function CountField(props: { readonly visit: Visit; readonly question: CountQuestion; readonly note: Note }) {
  const { question, note } = props;
  const stored = props.visit.needs?.[question.field];
  const { text, setTyped } = useTyped(stored === undefined ? '' : String(stored));
  const [error, setError] = useState<string | undefined>(undefined);
  const commit = (typed: string) => {
    const read = readCount(question, typed);
    setError('error' in read ? read.error : undefined);
    if ('error' in read) return;
    const value = read.value ?? undefined;
    setTyped(value === undefined ? '' : String(value));
    if (value !== stored) note(question.words, { [question.field]: value });
  };
  return (
    <TextField
      label={`${question.words} (${question.unit})`}
      hint={question.hint}
      inputMode={question.low < 0 ? 'text' : 'decimal'}
      error={error}
      value={text}
      suggestions={question.often}
      onInput={setTyped}
      onCommit={commit}
    />
  );
}
