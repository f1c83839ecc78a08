import { AreaField, DraftLine, SavedLine, useDraft, useSave } from '../../ui';
import { VisitFrame } from '../../ui/visit/frame';
import type { VisitView } from '../../lib';
import { lengths, type NoteField as FieldId } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';

interface NoteField {
  readonly id: FieldId;
  readonly label: string;
  readonly hint: string;
  readonly often?: readonly string[];
}

const fields: readonly NoteField[] = [
  { id: 'present', label: 'Who was present', hint: 'Names and what they are to the client.' },
  {
    id: 'consent',
    label: 'Consent',
    hint: 'To what, by whom, by what means. Without it: stop here.',
    often: ['spoken, by the client, to everything today', 'by a sign, by the client, to everything today'],
  },
  {
    id: 'stop-holder',
    label: 'Who holds the stop',
    hint: 'The named person with a working way to stop the chair.',
    often: ['the therapist', 'the helper'],
  },
  { id: 'story', label: 'The story so far', hint: 'What changed since last time; what people report.' },
  { id: 'goals', label: 'Goals, in the client’s own words', hint: 'Up to three.' },
  { id: 'risks', label: 'Risks talked through', hint: 'Which, with whom, what was agreed.' },
  { id: 'note', label: 'Anything else', hint: '' },
];

export const noteCount = fields.length;

/** What is asked before anything else in a visit. */
export const firstNotes = fields.filter(({ id }) => id === 'consent' || id === 'stop-holder');

/** One of the notes, saved when it is left; the same wherever it is shown. */
export function NoteText(props: { readonly view: VisitView; readonly field: NoteField; readonly rows?: number | undefined }) {
  const { view, field } = props;
  const saver = useSave();
  const stored = view.visit.notes[field.id] ?? '';
  const draft = useDraft({ about: view.visit.id, name: `note ${field.id}`, title: field.label }, stored);
  const save = async (value: string) => {
    if (value === stored) return;
    if (await saver.save(field.label, () => writeVisit(view.visit, 'visit-noted', { fields: { [field.id]: value } }))) draft.saved(value);
  };
  if (!isOpen(view.visit)) {
    return (
      <div class="field">
        <h2 class="field-label">{field.label}</h2>
        <p class="answer-fixed">{stored === '' ? 'Nothing written.' : stored}</p>
      </div>
    );
  }
  return (
    <div>
      <AreaField
        label={field.label}
        hint={field.hint === '' ? undefined : field.hint}
        rows={props.rows}
        value={draft.value}
        maxLength={lengths['visit-noted'].fields}
        suggestions={field.often}
        onInput={draft.set}
        onCommit={(value) => void save(value)}
      />
      {saver.state.kind === 'saving' ? null : <DraftLine draft={draft} />}
      <SavedLine state={saver.state} />
    </div>
  );
}

/** The free texts of a visit. Each is saved by itself. */
export function NotesScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Visit notes" wide>
      {(view) => (
        <div class="notes-fields">
          {fields.map((field) => (
            <NoteText key={field.id} view={view} field={field} />
          ))}
        </div>
      )}
    </VisitFrame>
  );
}
