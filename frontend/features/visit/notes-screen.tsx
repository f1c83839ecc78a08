import { AreaField, SavedLine, useSave } from '../../ui';
import { useTyped } from '../../ui/typed';
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

function NoteText(props: { readonly view: VisitView; readonly field: NoteField }) {
  const { view, field } = props;
  const saver = useSave();
  const stored = view.visit.notes[field.id] ?? '';
  const { text, unsaved, setTyped } = useTyped(stored);
  const save = async (value: string) => {
    if (value === stored) return;
    await saver.save(field.label, () => writeVisit(view.visit, 'visit-noted', { fields: { [field.id]: value } }));
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
        value={text}
        maxLength={lengths['visit-noted'].fields}
        suggestions={field.often}
        onInput={setTyped}
        onCommit={(value) => void save(value)}
      />
      {unsaved && (saver.state.kind === 'idle' || saver.state.kind === 'saved') ? (
        <p class="field-hint">Saved when you leave the field.</p>
      ) : null}
      <SavedLine state={saver.state} />
    </div>
  );
}

/** The free texts of a visit. Each is saved by itself. */
export function NotesScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Visit notes">
      {(view) => (
        <div class="stack">
          {fields.map((field) => (
            <NoteText key={field.id} view={view} field={field} />
          ))}
        </div>
      )}
    </VisitFrame>
  );
}
