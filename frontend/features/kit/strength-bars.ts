/** What the drawing of force available against force needed shows. */
import { directions, type Quantity } from '../../lib/model.gen';
import type { Comparable } from './compare';

export interface Bar {
  readonly direction: string;
  readonly needed: boolean;
  /** Mean force in gf, or null where it was not measured. */
  readonly rested: number | null;
  readonly tired: number | null;
}

/** Mean forces by direction at a site. */
export function barsAt(figures: readonly Quantity[], site: string, needed: readonly string[]): readonly Bar[] {
  const mean = (state: string, direction: string): number | null => {
    return figures.find((one) => one.name === `mean-${state}` && one.site === site && one.direction === direction)?.value ?? null;
  };
  return directions.map((direction) => ({
    direction,
    needed: needed.includes(direction),
    rested: mean('rested', direction),
    tired: mean('tired', direction),
  }));
}

export interface NeedLine {
  readonly control: Comparable;
  /** Place of the control in the list of those shown. */
  readonly at: number;
  readonly times: number;
  readonly force: number;
}

/** Each control's force for full command, once and with the reserves that are asked for. */
export function needLines(controls: readonly Comparable[], reserves: readonly number[]): readonly NeedLine[] {
  return controls.flatMap((control, at) =>
    control.operate > 0 ? [1, ...reserves].map((times) => ({ control, at, times, force: control.operate * times })) : [],
  );
}

/** The forces that must fit on the drawing; bare zeros do not. */
export function forcesOn(bars: readonly Bar[], lines: readonly NeedLine[], more: readonly number[]): readonly number[] {
  return [...bars.flatMap((bar) => [bar.rested ?? 0, bar.tired ?? 0]), ...lines.map((line) => line.force), ...more].filter(
    (force) => force > 0,
  );
}
