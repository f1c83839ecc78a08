import { drafts } from '../lib';
import { Button } from './button';
import type { AnyDraft } from './draft';

/** Says that something is kept as typed and not saved, what it waits for, and whether somebody saved another text meanwhile. */
export function DraftLine(props: {
  readonly draft: AnyDraft;
  readonly lacks?: readonly string[] | undefined;
  /** When it is saved, where not by leaving the field. */
  readonly when?: string | undefined;
}) {
  const { draft, lacks = [], when = 'It is saved when you leave the field.' } = props;
  if (!draft.unsaved) return null;
  const away = draft.newer !== undefined || lacks.length > 0 || props.when !== undefined;
  const until = lacks.length > 0 ? `It counts once this is filled in: ${lacks.join(', ')}.` : when;
  return (
    // A field that is being typed in stays in focus: leaving it would save what is thrown away.
    <div class="draft-line" onMouseDown={(event) => event.preventDefault()}>
      <p class="field-hint" role="status">
        Not saved yet{drafts.failing.value.size > 0 ? '' : ', and kept on this tablet as typed'}. {until}
      </p>
      {draft.newer === undefined ? null : (
        <p class="field-hint" role="alert">
          Somebody saved this meanwhile{typeof draft.newer === 'string' ? `: “${draft.newer}”` : ''}. What stands here is yours.
        </p>
      )}
      {away ? (
        <Button kind="quiet" onPress={draft.drop}>
          {draft.newer === undefined ? 'Throw away what I typed' : 'Take what was saved'}
        </Button>
      ) : null}
    </div>
  );
}
