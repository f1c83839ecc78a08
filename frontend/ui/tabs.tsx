import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';

export interface Tab {
  readonly id: string;
  readonly label: string;
  /** A number behind the label, such as how many rows there are. */
  readonly count?: number | undefined;
}

/** Views of one thing, one at a time. Arrow keys move between them. */
export function Tabs(props: {
  readonly label: string;
  readonly tabs: readonly Tab[];
  readonly value: string;
  readonly onChange: (id: string) => void;
}) {
  const list = useRef<HTMLDivElement>(null);
  const move = (step: number) => {
    const at = props.tabs.findIndex((tab) => tab.id === props.value);
    const next = props.tabs[(at + step + props.tabs.length) % props.tabs.length];
    if (!next) return;
    props.onChange(next.id);
    list.current?.querySelector<HTMLElement>(`#tab-${next.id}`)?.focus();
  };
  return (
    <div
      class="tabs"
      role="tablist"
      ref={list}
      aria-label={props.label}
      onKeyDown={(event) => {
        if (event.key === 'ArrowRight') move(1);
        if (event.key === 'ArrowLeft') move(-1);
      }}
    >
      {props.tabs.map((tab) => (
        <button
          key={tab.id}
          type="button"
          role="tab"
          id={`tab-${tab.id}`}
          class={tab.id === props.value ? 'tab tab-on' : 'tab'}
          aria-selected={tab.id === props.value}
          aria-controls={`panel-${tab.id}`}
          tabIndex={tab.id === props.value ? 0 : -1}
          onClick={() => props.onChange(tab.id)}
        >
          {tab.label}
          {tab.count === undefined ? null : <span class="tab-count"> {tab.count}</span>}
        </button>
      ))}
    </div>
  );
}

/** What the chosen tab shows. */
export function TabPanel(props: { readonly id: string; readonly children: ComponentChildren }) {
  return (
    <div role="tabpanel" id={`panel-${props.id}`} aria-labelledby={`tab-${props.id}`} class="tab-panel">
      {props.children}
    </div>
  );
}
