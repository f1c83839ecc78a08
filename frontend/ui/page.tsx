import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

export interface PageProps {
  readonly title: string;
  /** What stands above the title: whose visit it is. */
  readonly over?: ComponentChildren;
  readonly back?: { readonly href: string; readonly label: string } | undefined;
  readonly children: ComponentChildren;
  /** Main actions; they stay at the bottom edge, at the chosen hand. */
  readonly actions?: ComponentChildren;
  /** The page uses the whole width, for lists and trial screens. */
  readonly wide?: boolean | undefined;
  /** False when something else on the page takes the focus. */
  readonly focusTitle?: boolean | undefined;
}

/**
 * The frame of one screen. The heading takes the focus when the screen opens,
 * so that a screen reader says where one is. The window's title is none of its
 * business: it stays in the browser's history (app/window-title.ts).
 */
export function Page(props: PageProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (props.focusTitle !== false) heading.current?.focus({ preventScroll: true });
  }, [props.title]);
  return (
    <main class={props.wide ? 'page page-wide' : 'page'}>
      {props.back || props.over ? (
        <div class="page-head">
          {props.back ? (
            <a class="back" href={props.back.href}>
              ‹ {props.back.label}
            </a>
          ) : null}
          {props.over ? <div class="page-over">{props.over}</div> : null}
        </div>
      ) : null}
      <h1 ref={heading} tabIndex={-1} class="page-title">
        {props.title}
      </h1>
      {props.children}
      {props.actions ? <div class="page-actions">{props.actions}</div> : null}
    </main>
  );
}

/** Something that is a tap away: why, what to do, all reasons. Works without script and by keyboard. */
export function More(props: {
  readonly summary: ComponentChildren;
  readonly children: ComponentChildren;
  readonly open?: boolean | undefined;
  readonly class?: string | undefined;
}) {
  return (
    <details class={props.class ? `more ${props.class}` : 'more'} open={props.open}>
      <summary class="more-summary">{props.summary}</summary>
      <div class="more-inside">{props.children}</div>
    </details>
  );
}
