import type { ComponentChildren } from 'preact';

/** One kind of part, in all its states. */
export function Shelf(props: { readonly title: string; readonly children: ComponentChildren }) {
  return (
    <div class="parts-shelf" role="group" aria-label={props.title}>
      <h3>{props.title}</h3>
      <div class="parts-row">{props.children}</div>
    </div>
  );
}
