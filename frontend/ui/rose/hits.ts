import type { Frame } from './parts';

/** A part of the drawing that is touched, in percent of it. */
export interface Hit {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const half = 16;

const spots: Readonly<Record<string, Hit>> = {
  forward: { left: 50 - half, top: 0, width: 2 * half, height: 42 },
  reverse: { left: 50 - half, top: 58, width: 2 * half, height: 42 },
  left: { left: 0, top: 50 - half, width: 42, height: 2 * half },
  right: { left: 58, top: 50 - half, width: 42, height: 2 * half },
  'forward-left': { left: 0, top: 6, width: 30, height: 26 },
  'forward-right': { left: 70, top: 6, width: 30, height: 26 },
  'reverse-left': { left: 0, top: 68, width: 30, height: 26 },
  'reverse-right': { left: 70, top: 68, width: 30, height: 26 },
};

/** Where an arm of the rose is touched: over its name and most of its length. The press is touched in the middle. */
export function hitOf(id: string, { wide, high, hub }: Frame): Hit | undefined {
  if (id !== 'press') return spots[id];
  const [width, height] = [(100 * 2 * hub) / wide, (100 * 2 * hub) / high];
  return { left: 50 - width / 2, top: 50 - height / 2, width, height };
}
