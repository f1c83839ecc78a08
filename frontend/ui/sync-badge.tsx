import type { VisitSync } from '../lib';

/** The words for the four states, the same on every screen. */
export const syncWords: Readonly<Record<VisitSync, string>> = {
  here: 'On this tablet only',
  waiting: 'Waiting to be sent',
  sent: 'Sent',
  choice: 'Needs your choice',
};

/** Each state has its own drawing as well as its words. */
function SyncShape(props: { readonly state: VisitSync }) {
  const shared = { fill: 'none', stroke: 'currentColor', 'stroke-width': 2 } as const;
  switch (props.state) {
    case 'here':
      return <rect x="5" y="2" width="10" height="16" rx="1.5" {...shared} />;
    case 'waiting':
      return <path d="M5 3h10M5 17h10M6 3c0 4 8 10 8 14M14 3c0 4-8 10-8 14" {...shared} />;
    case 'sent':
      return <path d="M3 10.5l5 5L17 5" {...shared} stroke-width={2.5} />;
    case 'choice':
      return <path d="M10 18v-7M10 11L4 3M10 11l6-8" {...shared} />;
  }
}

/** The state of one visit, always in words. */
export function SyncBadge(props: { readonly state: VisitSync }) {
  return (
    <span class={`sync-badge sync-${props.state}`}>
      <svg viewBox="0 0 20 20" width="1.1em" height="1.1em" aria-hidden="true" focusable="false">
        <SyncShape state={props.state} />
      </svg>
      {syncWords[props.state]}
    </span>
  );
}
