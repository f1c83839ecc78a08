/** Boxes of words in a drawing, and a place for each where it covers no other. */

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly wide: number;
  readonly high: number;
}

export function boxAround(x: number, y: number, wide: number, high: number): Box {
  return { x: x - wide / 2, y: y - high / 2, wide, high };
}

export function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.wide && b.x < a.x + a.wide && a.y < b.y + b.high && b.y < a.y + a.high;
}

export function inside(box: Box, wide: number, high: number): boolean {
  return box.x >= 0 && box.y >= 0 && box.x + box.wide <= wide && box.y + box.high <= high;
}

/** The first of the boxes that covers none of the others. */
export function firstFree<B extends Box>(candidates: readonly B[], taken: readonly Box[]): B | undefined {
  return candidates.find((one) => !taken.some((other) => overlap(one, other)));
}

/** How wide words stand at a size of the bundled face; rather too wide. */
export function wordsWide(words: string, size: number): number {
  return words.length * size * 0.6;
}
