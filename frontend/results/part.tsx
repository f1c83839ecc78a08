import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

/** One part of a screen under its own heading, a landmark for screen readers. */
export function Part(props: { readonly title: string; readonly children: ComponentChildren; readonly class?: string | undefined }) {
  const id = useId();
  return (
    <section class={props.class ? `part ${props.class}` : 'part'} aria-labelledby={id}>
      <h2 class="part-title" id={id}>{props.title}</h2>
      {props.children}
    </section>
  );
}

/** A table that scrolls inside its own frame when the screen is narrow. */
export function Table(props: {
  readonly caption: string;
  readonly heads: readonly string[];
  readonly children: ComponentChildren;
  /** Hide the caption from sight where the heading above says the same. */
  readonly captionHidden?: boolean | undefined;
}) {
  return (
    <div class="table-frame" role="region" aria-label={props.caption} tabIndex={0}>
      <table class="table">
        <caption class={props.captionHidden ? 'unseen' : 'table-caption'}>{props.caption}</caption>
        <thead>
          <tr>{props.heads.map((head) => <th key={head} scope="col">{head}</th>)}</tr>
        </thead>
        <tbody>{props.children}</tbody>
      </table>
    </div>
  );
}

/** Short facts, name before value. */
export function Facts(props: { readonly rows: readonly (readonly [string, ComponentChildren])[] }) {
  return (
    <dl class="facts">
      {props.rows.map(([name, value]) => (
        <div key={name} class="fact">
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
