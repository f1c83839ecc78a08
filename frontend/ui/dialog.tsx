import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';

export interface DialogProps {
  readonly title: string;
  readonly open: boolean;
  /** Called for Escape and the close button; the caller sets open to false. */
  readonly onClose: () => void;
  readonly children: ComponentChildren;
  /** Buttons, the main one first. */
  readonly actions?: ComponentChildren;
  /** Hide the close button where one of the actions must be chosen. */
  readonly mustChoose?: boolean | undefined;
}

/** A question in front of the page. The browser keeps the focus inside and gives it back. */
export function Dialog(props: DialogProps) {
  const box = useRef<HTMLDialogElement>(null);
  const title = useId();
  useEffect(() => {
    const dialog = box.current;
    if (!dialog) return;
    if (props.open && !dialog.open) dialog.showModal();
    if (!props.open && dialog.open) dialog.close();
  }, [props.open]);
  return (
    <dialog
      ref={box}
      class="dialog"
      aria-labelledby={title}
      onCancel={(event) => {
        event.preventDefault();
        if (!props.mustChoose) props.onClose();
      }}
    >
      {props.open ? (
        <div class="dialog-inside" data-about={props.title}>
          <h2 id={title} class="dialog-title">
            {props.title}
          </h2>
          <div class="dialog-body">{props.children}</div>
          <div class="actions">
            {props.actions}
            {props.mustChoose ? null : (
              <button type="button" class="button button-quiet button-normal" onClick={props.onClose}>
                Close
              </button>
            )}
          </div>
        </div>
      ) : null}
    </dialog>
  );
}
