import { ROSE } from './parts';

/** A part of the drawing that is touched, in percent of it. */
export interface Hit {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const half = 16;

const spots: Readonly<Record<string, readonly [x: number, y: number, wide: number, high: number]>> = {
  forward: [50 - half, 0, 2 * half, 42],
  reverse: [50 - half, 58, 2 * half, 42],
  left: [0, 50 - half, 42, 2 * half],
  right: [58, 50 - half, 42, 2 * half],
  'forward-left': [0, 6, 30, 26],
  'forward-right': [70, 6, 30, 26],
  'reverse-left': [0, 68, 30, 26],
  'reverse-right': [70, 68, 30, 26],
  press: [
    50 - (100 * ROSE.hub) / ROSE.wide - 1,
    50 - (100 * ROSE.hub) / ROSE.high - 1,
    (200 * ROSE.hub) / ROSE.wide + 2,
    (200 * ROSE.hub) / ROSE.high + 2,
  ],
};

/** Where an arm of the rose is touched: over its name and most of its length. */
export function hitOf(id: string): Hit | undefined {
  const [left, top, width, height] = spots[id] ?? [];
  return left === undefined || top === undefined || width === undefined || height === undefined ? undefined : { left, top, width, height };
}
