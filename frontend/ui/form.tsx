import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { AnyDraft } from './draft';
import { DraftLine } from './draft-line';
import { PlainForm } from './inputs';
import { SavedLine, type SaveState } from './saved';

interface FormProps {
  readonly onSave: () => unknown;
  /** What is wrong, by field. The first of it is brought into sight, and how much there is is said at the end. */
  readonly errors?: Readonly<Record<string, string | undefined>> | undefined;
  /** What stands in the fields, where it is saved only as a whole. */
  readonly draft?: AnyDraft | undefined;
  /** What became of the last save, said at the end. */
  readonly state?: SaveState | undefined;
  /** The width of lines to read, where the page itself is wider. */
  readonly narrow?: boolean | undefined;
  /** Another class of a form that is not narrow. */
  readonly class?: string | undefined;
  readonly children: ComponentChildren;
}

const NONE = {};

/** Fields that are saved together. They check themselves, in our words. */
export function Form(props: FormProps) {
  const { errors = NONE } = props;
  const frame = useRef<HTMLFormElement>(null);
  const wrong = Object.values(errors).filter(Boolean).length;
  useEffect(() => frame.current?.querySelector('.field-error')?.scrollIntoView({ block: 'center' }), [errors]);
  return (
    <PlainForm class={`stack ${props.narrow ? 'form' : (props.class ?? '')}`} frame={frame} onSubmit={props.onSave}>
      {props.children}
      {wrong > 0 ? (
        <p class="saved-failed">Not saved: {wrong === 1 ? 'one field above needs' : `${wrong} fields above need`} a look.</p>
      ) : null}
      {props.draft ? <DraftLine draft={props.draft} when="Leaving this screen keeps it as it is." /> : null}
      {props.state ? <SavedLine state={props.state} /> : null}
    </PlainForm>
  );
}
