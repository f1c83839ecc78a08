/** Drawn on a sheet of 24 by 24, one weight of line, each with a word beside it. */
const drawings = {
  back: 'M15 4 7 12l8 8',
  next: 'M4 12h15M13 6l6 6-6 6',
  undo: 'M8 5 3 10l5 5M4 10h10a6 6 0 0 1 0 12h-3',
  tick: 'M4 13l5 5L20 6',
  signal: 'M4 20v-4M10 20v-8M16 20V8M22 20V4',
  'no-signal': 'M4 20v-4M10 20v-8M16 20V8M3 4l18 17',
  tray: 'M3 13v7h18v-7M12 15V4M7 9l5-5 5 5',
  pause: 'M8 5v14M16 5v14',
  lock: 'M6 11h12v9H6zM8.5 11V8a3.5 3.5 0 0 1 7 0v3M12 14.5v2',
  sun: 'M7.5 12a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0M12 2v3M12 19v3M2 12h3M19 12h3M5 5l2 2M17 17l2 2M19 5l-2 2M7 17l-2 2',
  look: 'M2 12s4-7 10-7 10 7 10 7-4 7-10 7-10-7-10-7zM9 12a3 3 0 1 0 6 0a3 3 0 1 0-6 0',
  parts: 'M9 6h12M9 12h12M9 18h12M3 6h2M3 12h2M3 18h2',
  missing:
    'M12 3a9 9 0 0 1 6.4 2.6M20.6 9.2a9 9 0 0 1 0 5.6M18.4 18.4A9 9 0 0 1 12 21M5.6 18.4a9 9 0 0 1-2.2-3.6M3.4 9.2a9 9 0 0 1 2.2-3.6M12 8v5M12 16v.5',
  find: 'M3.5 10a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0M15 15l6 6',
  door: 'M3 21h18M7 21V4h10v17M7 4l6 2.5V23l-6-2',
  today: 'M4 6h16v14H4zM4 10.5h16M8 3v4M16 3v4M8 15h3',
  kit: 'M3 9h18v11H3zM9 9V5h6v4M3 14h18M12 12.5v3',
  people:
    'M5.5 8a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0M2.5 20c0-4 2.5-6 6.5-6s6.5 2 6.5 6M15.5 5a3.5 3.5 0 0 1 0 6.5M17 14.3c3 .5 4.5 2.5 4.5 5.7',
  person: 'M8 8a4 4 0 1 0 8 0a4 4 0 1 0-8 0M4 21c0-4.5 3-6.5 8-6.5s8 2 8 6.5',
  caseload: 'M3 5h18M3 12h18M3 19h11M18 16v6M15 19h6',
  about: 'M3 12a9 9 0 1 0 18 0a9 9 0 1 0-18 0M12 11v5.5M12 7.3v.4',
  leave: 'M14 4H5v16h9M10 12h11M17 8l4 4-4 4',
  clock: 'M3 13a9 9 0 1 0 18 0a9 9 0 1 0-18 0M12 8v5l3 2M9 2h6',
} as const;

export type IconName = keyof typeof drawings;
export const iconNames = Object.keys(drawings) as readonly IconName[];

/** A small drawing beside a word; it never stands for the word. */
export function Icon(props: { readonly name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={drawings[props.name]} />
    </svg>
  );
}
