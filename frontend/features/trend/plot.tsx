import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { More } from '../../ui';
import { evenScale } from '../../ui/scales';
import { dateOfDay } from './moments';

/** A mark on an axis with its label. */
export type Tick = readonly [value: number, label: string];

/** Where values lie in the drawing; em is the size of its text. */
export interface Paper {
  readonly x: (day: number) => number;
  readonly y: (value: number) => number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly em: number;
  /** For clip paths and patterns. */
  readonly id: string;
}

interface PlotProps {
  /** What it shows, for those who cannot see it; its table says the same in full. */
  readonly label: string;
  readonly days: readonly [from: number, to: number];
  readonly values: readonly [from: number, to: number];
  readonly ticks: readonly Tick[];
  /** In lines of text. */
  readonly height: number;
  /** Room for the labels of values, in widths of text. */
  readonly gutter: number;
  readonly children: (paper: Paper) => ComponentChildren;
}

/** The width that there is for the drawing and the size of text in it, in pixels. */
function useSize() {
  const frame = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState({ room: 640, em: 16 });
  useEffect(() => {
    const box = frame.current;
    if (!box) return undefined;
    const measure = () => setSize({ room: box.clientWidth, em: parseFloat(getComputedStyle(box).fontSize) });
    const watch = new ResizeObserver(measure);
    watch.observe(box);
    return () => watch.disconnect();
  }, []);
  return { frame, ...size };
}

function scale(from: number, to: number, start: number, end: number): (value: number) => number {
  return (value) => start + ((value - from) / (to - from || 1)) * (end - start);
}

const shortDate = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: '2-digit', timeZone: 'UTC' });

function dateTicks(from: number, to: number, room: number): readonly Tick[] {
  const count = Math.max(1, Math.min(5, Math.floor(room) - 1, to - from));
  return Array.from({ length: count + 1 }, (_, i) => {
    const day = Math.round(from + ((to - from) * i) / count);
    return [day, shortDate.format(new Date(dateOfDay(day)))] as const;
  });
}

/** A drawing over time in ink only: it prints in black and white. */
export function Plot(props: PlotProps) {
  const { frame, room, em } = useSize();
  // With large text on a small screen the drawing is wider than the screen and moves in its frame.
  const width = Math.max(room, (props.gutter + 13) * em);
  const moves = width > room;
  const id = useId();
  const [from, to] = props.days;
  const paper: Paper = {
    left: props.gutter * em,
    right: width - 1.5 * em,
    top: em,
    bottom: (props.height - 1.8) * em,
    em,
    id,
    x: scale(from, to, props.gutter * em + em, width - 2.5 * em),
    y: scale(props.values[0], props.values[1], (props.height - 1.8) * em, em),
  };
  return (
    <div
      class="plot"
      ref={frame}
      role={moves ? 'group' : undefined}
      aria-label={moves ? props.label : undefined}
      tabIndex={moves ? 0 : undefined}
    >
      <svg style={{ minWidth: `${width}px` }} viewBox={`0 0 ${width} ${props.height * em}`} role="img" aria-label={props.label}>
        {props.ticks.map(([value, label]) => (
          <g key={label}>
            <line class="plot-rule" x1={paper.left} x2={paper.right} y1={paper.y(value)} y2={paper.y(value)} />
            <text class="plot-text plot-end" x={paper.left - 0.4 * em} y={paper.y(value) + 0.32 * em}>
              {label}
            </text>
          </g>
        ))}
        <line class="plot-axis" x1={paper.left} x2={paper.right} y1={paper.bottom} y2={paper.bottom} />
        {dateTicks(from, to, (paper.right - paper.left) / (5.5 * em)).map(([day, label]) => (
          <g key={day}>
            <line class="plot-axis" x1={paper.x(day)} x2={paper.x(day)} y1={paper.bottom} y2={paper.bottom + 0.3 * em} />
            <text class="plot-text plot-middle" x={paper.x(day)} y={paper.bottom + 1.3 * em}>
              {label}
            </text>
          </g>
        ))}
        {props.children(paper)}
      </svg>
    </div>
  );
}

/** Days of visits with a little room, so that a single visit is drawn as well. */
export function daysAround(days: readonly number[]): readonly [number, number] {
  const [first = 0, last = first] = [days[0], days.at(-1)];
  return last - first < 7 ? [first - 7, last + 7] : [first, last];
}

/** Round marks from 0 to a most: about five of them. */
export function valueTicks(most: number, unit = ''): readonly Tick[] {
  return evenScale(most, { from: 0, to: most })
    .ticks.filter((value) => value <= most)
    .map((value) => [value, `${value}${unit}`] as const);
}

/** The same numbers for those who do not see the drawing. */
export function AsTable(props: { readonly children: ComponentChildren }) {
  return <More summary="The same as a table">{props.children}</More>;
}

const NOISE = ['=', 'noise'] as const;

const WORDS: Readonly<Record<string, readonly [shape: string, words: string]>> = {
  up: ['↑', 'up'],
  down: ['↓', 'down'],
  mixed: ['↕', 'some up, some down'],
};

/** Which way a figure went, as a shape and in words. Arrows stand only where a change is beyond noise. */
export function ArrowWords(props: { readonly direction: string }) {
  const [shape, words] = WORDS[props.direction] ?? NOISE;
  return (
    <span class="arrow-words">
      <span aria-hidden="true">{shape}</span> {words}
    </span>
  );
}
