import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { comeFrom } from './address';
import { pageHead } from './page-head';
import { Toast, useKept } from './toast';

export interface PageProps {
  readonly title: string;
  /** Whose records these are: it stands in the head, in sight on every size. */
  readonly over?: string | undefined;
  /** Where a touch of that leads. */
  readonly overHref?: string | undefined;
  readonly back?: { readonly href: string; readonly label: string } | undefined;
  /** What stands beside the title. */
  readonly beside?: ComponentChildren;
  readonly children: ComponentChildren;
  /** Main actions; they stay at the bottom edge, at the chosen hand. */
  readonly actions?: ComponentChildren;
  /** The page uses the whole width, for lists and trial screens. */
  readonly wide?: boolean | undefined;
  /** False when something else on the page takes the focus. */
  readonly focusTitle?: boolean | undefined;
}

/** What stays at the bottom edge: what was kept last, and the main actions. */
function PageFoot(props: { readonly children: ComponentChildren }) {
  const told = useKept() !== null;
  return (
    <div class={props.children || told ? 'page-foot' : 'page-foot page-foot-empty'}>
      <Toast />
      {props.children ? <div class="page-actions">{props.children}</div> : null}
    </div>
  );
}

/**
 * The frame of one screen. The heading takes the focus when the screen opens,
 * so that a screen reader says where one is; after the way back it is the link
 * that led away. The window's title is none of its business: it stays in the
 * browser's history (app/window-title.ts).
 */
export function Page(props: PageProps) {
  const { title, over, overHref, back } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    pageHead.value = { title, over, overHref, back };
  }, [title, over, overHref, back?.href, back?.label]);
  useEffect(() => {
    if (props.focusTitle === false) return;
    const left = comeFrom(heading.current?.closest('main'));
    (left ?? heading.current)?.focus({ preventScroll: true });
  }, [title]);
  return (
    <main class={props.wide ? 'page page-wide' : 'page'}>
      <div class="page-top">
        <h1 ref={heading} tabIndex={-1} class="page-title">
          {title}
        </h1>
        {props.beside}
      </div>
      {props.children}
      <PageFoot>{props.actions}</PageFoot>
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
