import type { ComponentChildren } from 'preact';

/** Something that is a tap away: why, what to do, all reasons. Works without script and by keyboard. */
export function More(props: {
  readonly summary: ComponentChildren;
  readonly children: ComponentChildren;
  readonly open?: boolean | undefined;
}) {
  return (
    <details class="more" open={props.open}>
      <summary class="more-summary">{props.summary}</summary>
      <div class="more-inside">{props.children}</div>
    </details>
  );
}
