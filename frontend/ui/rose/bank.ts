import type { Rose, RoseArm } from '../../lib/model.gen';
import { numberWords } from '../words';
import { boxAround, firstFree, wordsWide, type Box } from './layout';
import type { Label, RoseLook } from './parts';
import { logScale, type LogScale } from './scale';
import { standing } from './standing';

/** The measure of a drawing of switches: columns over their switches. */
export const BANK = { wide: 600, high: 440, top: 46, floor: 330, least: 24 } as const;

export interface ColumnParts {
  readonly id: string;
  readonly words: string;
  readonly chosen: boolean;
  readonly pale: boolean;
  readonly x: number;
  /** Half of a column's width. */
  readonly half: number;
  readonly bars: readonly { readonly of: 'rested' | 'tired' | 'assumed'; readonly top: number; readonly few: boolean }[];
  /** What the switch asks, and three times that. */
  readonly asked: number | null;
  readonly plenty: number | null;
  readonly askedLabel: Label | null;
  readonly figure: Label | null;
  readonly pill: Label | null;
  readonly apart: Label | null;
  readonly wrong: string;
}

export interface BankParts {
  readonly scale: LogScale;
  readonly grid: readonly { readonly value: number; readonly y: number }[];
  readonly columns: readonly ColumnParts[];
}

function heightOf(scale: LogScale, value: number): number {
  const room = BANK.floor - BANK.top - BANK.least;
  return value > 0 ? BANK.floor - BANK.least - room * scale.at(value) : BANK.floor - 8;
}

function label(text: string, size: number, x: number, y: number): Label {
  return { ...boxAround(x, y, wordsWide(text, size) + 12, size + 10), text, size };
}

function barsOf(arm: RoseArm, scale: LogScale, wanted: number): ColumnParts['bars'] {
  const bars = [
    arm.rested ? { of: 'rested' as const, top: heightOf(scale, arm.rested.value), few: arm.rested.count < wanted } : null,
    arm.tired ? { of: 'tired' as const, top: heightOf(scale, arm.tired.value), few: arm.tired.count < wanted } : null,
  ].filter((one) => one !== null);
  bars.sort((a, b) => a.top - b.top);
  const assumed = arm.assumed && arm.usable !== undefined ? [{ of: 'assumed' as const, top: heightOf(scale, arm.usable), few: false }] : [];
  return [...bars, ...assumed];
}

function columnOf(arm: RoseArm, look: RoseLook, scale: LogScale, x: number, half: number): ColumnParts {
  const bars = barsOf(arm, scale, look.wanted);
  const top = Math.min(BANK.floor, ...bars.map((bar) => bar.top));
  const taken: Box[] = [];
  const place = (candidates: readonly Label[]): Label | null => {
    const found = firstFree(candidates, taken) ?? null;
    if (found) taken.push(found);
    return found;
  };
  const steps = Array.from({ length: 30 }, (_, i) => i * 6);
  const far = [arm.tired, arm.rested].find((one) => one?.apart);
  return {
    id: arm.id,
    words: look.words(arm.id),
    chosen: arm.id === look.chosen,
    pale: arm.needed !== true,
    x,
    half,
    bars,
    asked: arm.asked === undefined ? null : heightOf(scale, arm.asked),
    plenty: arm.plenty === undefined ? null : heightOf(scale, arm.plenty),
    figure: arm.rested ? place([label(numberWords(arm.rested.value), 24, x, top - 20)]) : null,
    pill: arm.tired
      ? place(
          steps.map((step) =>
            label(numberWords(arm.tired?.value ?? 0), 20, x, Math.min(BANK.floor - 17, heightOf(scale, arm.tired?.value ?? 0) + 24) - step),
          ),
        )
      : null,
    askedLabel:
      arm.asked === undefined
        ? null
        : place(
            steps.flatMap((step) =>
              [-step, step].map((dy) =>
                label(`asks ${numberWords(arm.asked ?? 0)}`, 15, x, Math.min(BANK.floor - 14, heightOf(scale, arm.asked ?? 0) + dy)),
              ),
            ),
          ),
    apart: far
      ? place(
          steps.map((step) =>
            label(`${numberWords(far.low)} to ${numberWords(far.high)}`, 15, x, Math.min(BANK.floor - 14, top + 60) - step),
          ),
        )
      : null,
    wrong: standing(arm),
  };
}

/** Everything that is drawn of switches, from the engine's figures. */
export function bankParts(rose: Rose, look: RoseLook): BankParts {
  const values = rose.arms.flatMap((arm) =>
    [arm.rested?.value, arm.tired?.value, arm.usable, arm.asked, arm.plenty].filter((one) => one !== undefined),
  );
  const scale = logScale(rose.unit, values);
  const wide = BANK.wide / Math.max(1, rose.arms.length);
  return {
    scale,
    grid: scale.decades.map((value) => ({ value, y: heightOf(scale, value) })),
    columns: rose.arms.map((arm, i) => columnOf(arm, look, scale, (i + 0.5) * wide, Math.min(42, wide * 0.3))),
  };
}
