import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';

/** One part of a screen under its own heading, a landmark for screen readers. */
export function Part(props: { readonly title: string; readonly children: ComponentChildren; readonly class?: string | undefined }) {
  const id = useId();
  return (
    <section class={props.class ? `part ${props.class}` : 'part'} aria-labelledby={id}>
      <h2 class="part-title" id={id}>
        {props.title}
      </h2>
      {props.children}
    </section>
  );
}

/** Whether the frame is narrower than what it holds, so that only then it takes the keyboard. */
function useScrolls() {
  const frame = useRef<HTMLDivElement>(null);
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const box = frame.current;
    if (!box) return undefined;
    const watch = new ResizeObserver(() => setScrolls(box.scrollWidth > box.clientWidth));
    watch.observe(box);
    for (const inside of box.children) watch.observe(inside);
    return () => watch.disconnect();
  }, []);
  return { frame, scrolls };
}

/** A table that scrolls inside its own frame when the screen is narrow. */
export function Table(props: {
  readonly caption: string;
  readonly heads: readonly string[];
  readonly children: ComponentChildren;
  /** Hide the caption from sight where the heading above says the same. */
  readonly captionHidden?: boolean | undefined;
}) {
  const { frame, scrolls } = useScrolls();
  return (
    <div
      ref={frame}
      class="table-frame"
      role={scrolls ? 'group' : undefined}
      aria-label={scrolls ? props.caption : undefined}
      tabIndex={scrolls ? 0 : undefined}
    >
      <table class="table">
        <caption class={props.captionHidden ? 'unseen' : undefined}>{props.caption}</caption>
        <thead>
          <tr>
            {props.heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{props.children}</tbody>
      </table>
    </div>
  );
}

/** Short facts, name before value. */
export function Facts(props: { readonly rows: readonly (readonly [string, ComponentChildren])[] }) {
  return (
    <dl class="fact-list">
      {props.rows.map(([name, value], at) => (
        <div key={`${at} ${name}`} class="fact">
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
