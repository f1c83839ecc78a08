import type { ComponentChildren } from 'preact';

/** main: the one thing to do here. plain: any other. quiet: a small way out. */
export type ButtonKind = 'main' | 'plain' | 'quiet';
/** normal is 44 px high, big 64 px, giant fills the width and is 30 % of the screen high. */
export type ButtonSize = 'normal' | 'big' | 'giant';

export interface ButtonProps {
  readonly children: ComponentChildren;
  readonly onPress?: (() => void) | undefined;
  readonly kind?: ButtonKind | undefined;
  readonly size?: ButtonSize | undefined;
  readonly type?: 'button' | 'submit' | undefined;
  readonly disabled?: boolean | undefined;
  /** Spoken name, when the visible text alone would not say what it does. */
  readonly label?: string | undefined;
  /** Set for a button that stays down, such as a switch between two views. */
  readonly pressed?: boolean | undefined;
  readonly expanded?: boolean | undefined;
  readonly controls?: string | undefined;
  readonly describedBy?: string | undefined;
  readonly class?: string | undefined;
}

function buttonClass(kind: ButtonKind, size: ButtonSize, extra: string | undefined): string {
  return ['button', `button-${kind}`, `button-${size}`, extra ?? ''].join(' ').trim();
}

/** A button. A disabled one stays reachable, so that its reason can be read out. */
export function Button(props: ButtonProps) {
  const { kind = 'plain', size = 'normal', type = 'button', disabled = false } = props;
  return (
    <button
      type={type}
      class={buttonClass(kind, size, props.class)}
      aria-disabled={disabled ? 'true' : undefined}
      aria-label={props.label}
      aria-pressed={props.pressed}
      aria-expanded={props.expanded}
      aria-controls={props.controls}
      aria-describedby={props.describedBy}
      onClick={(event) => {
        if (disabled) event.preventDefault();
        else props.onPress?.();
      }}
    >
      {props.children}
    </button>
  );
}

/** A link that looks like a button. */
export function ButtonLink(props: {
  readonly href: string;
  readonly children: ComponentChildren;
  readonly kind?: ButtonKind | undefined;
  readonly size?: ButtonSize | undefined;
  readonly label?: string | undefined;
  readonly current?: boolean | undefined;
  readonly class?: string | undefined;
}) {
  return (
    <a
      href={props.href}
      class={buttonClass(props.kind ?? 'plain', props.size ?? 'normal', props.class)}
      aria-label={props.label}
      aria-current={props.current ? 'page' : undefined}
    >
      {props.children}
    </a>
  );
}
