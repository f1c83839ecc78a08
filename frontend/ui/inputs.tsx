/**
 * The elements that people type into and choose with, made so that the browser
 * does not keep what stands in them. Browsers write it into files of their own,
 * in clear, to fill a page again after a crash or on the way back. What they
 * leave out was measured: Chromium all that has autocomplete off itself; WebKit
 * an input that has, but several lines and lists only where their form has.
 * So each element has it, and each belongs to a form that has: to the one around
 * it, or to an empty one in index.html. A test forbids these elements elsewhere.
 */
import { createContext, type ComponentChildren, type ComponentProps, type Ref } from 'preact';
import { useContext } from 'preact/hooks';

/** The empty form of index.html. It is of the method "dialog", so that Enter sends nothing. */
const outside = { autoComplete: 'off', form: 'unkept' } as const;
const inside = { autoComplete: 'off' } as const;
const Unkept = createContext<{ readonly autoComplete: 'off'; readonly form?: string }>(outside);

/** One line, a tick or a dot. Only what a password manager fills may name another autocomplete. */
export function Input(props: ComponentProps<'input'>) {
  return <input {...useContext(Unkept)} {...props} />;
}

export function TextArea(props: ComponentProps<'textarea'>) {
  return <textarea {...useContext(Unkept)} {...props} />;
}

export function Select(props: ComponentProps<'select'>) {
  return <select {...useContext(Unkept)} {...props} />;
}

/** A form that is sent by script and checks itself, in our words. */
export function PlainForm(props: {
  readonly class: string;
  readonly onSubmit: () => unknown;
  /** Called when a choice was made or a field was left. */
  readonly onLeave?: (() => void) | undefined;
  readonly children: ComponentChildren;
  readonly frame?: Ref<HTMLFormElement>;
}) {
  return (
    <Unkept.Provider value={inside}>
      <form
        class={props.class}
        ref={props.frame ?? null}
        autoComplete="off"
        noValidate
        onChange={props.onLeave}
        onFocusOut={props.onLeave}
        onSubmit={(event) => {
          event.preventDefault();
          void props.onSubmit();
        }}
      >
        {props.children}
      </form>
    </Unkept.Provider>
  );
}
