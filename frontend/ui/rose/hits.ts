import { SMALL_ROSE, type Frame } from './parts';

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

/** Where the names of ahead and back stand beside their arms. */
const low: Readonly<Record<string, Hit>> = {
  forward: { left: 50 - half, top: 0, width: 55, height: 34 },
  reverse: { left: half - 5, top: 66, width: 55, height: 34 },
  left: { left: 0, top: 34, width: 42, height: 32 },
  right: { left: 58, top: 34, width: 42, height: 32 },
};

/** Where an arm of the rose is touched: over its name and most of its length. The press is touched in the middle. */
export function hitOf(id: string, frame: Frame): Hit | undefined {
  const { wide, high, hub } = frame;
  if (id !== 'press') return (frame === SMALL_ROSE ? low : spots)[id];
  const [width, height] = [(100 * 2 * hub) / wide, (100 * 2 * hub) / high];
  return { left: 50 - width / 2, top: 50 - height / 2, width, height };
}
