/** What the engine advises for an observed problem, read from its text. */

export interface Advised {
  readonly key: string;
  readonly way: 'up' | 'down' | 'set';
  /** How much at a time, in words. */
  readonly step: string;
  readonly sentence: string;
  /** Letting go and the stop calls become due again. */
  readonly retest: boolean;
}

export interface Advice {
  /** What the advice rests on. */
  readonly basis: string;
  readonly changes: readonly Advised[];
}

function wayOf(word: string): Advised['way'] {
  return word === 'up' || word === 'down' ? word : 'set';
}

/** Reads a line "basis", then a line a change. */
export function parseAdvice(text: string): Advice {
  const rows = text
    .split('\n')
    .filter((row) => row !== '')
    .map((row) => row.split('\t'));
  return {
    basis: rows.find(([kind]) => kind === 'basis')?.[1] ?? '',
    changes: rows
      .filter((row) => row.length >= 5)
      .map(([key = '', way = '', step = '', sentence = '', due = '-']) => ({
        key,
        way: wayOf(way),
        step,
        sentence,
        retest: due !== '-',
      })),
  };
}
