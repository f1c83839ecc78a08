import { More } from '../../ui';
import { sentenceOf } from '../../ui/words';
import type { Passage } from '../../lib/model.gen';
import { leftWords } from './plan';

interface Fit {
  /** Lines on a square of 24: a tick in a ring, two arrows that press, a bar held by brackets. */
  readonly lines: string;
  readonly word: string;
}

const bar = 'M3 12H21M5 6v12M19 6v12';
const notKnown: Fit = { lines: 'M9 9q0-3 3-3t3 3q0 2-3 4M12 17v.01', word: 'Not known' };

const fits: Readonly<Record<string, Fit>> = {
  fits: { lines: 'M12 2a10 10 0 1 0 .01 0M7 12l4 4 6-8', word: 'Fits' },
  tight: { lines: 'M12 3V21M1 12H8M5 8l4 4-4 4M23 12H16M19 8l-4 4 4 4', word: 'Tight' },
  'does-not-fit': { lines: bar, word: 'Does not fit' },
  barred: { lines: bar, word: 'Shut: nobody drives here' },
};

/** The verdict in words, with a shape beside it. */
function FitMark(props: { readonly fit: string }) {
  const { lines, word } = fits[props.fit] ?? notKnown;
  return (
    <strong class={lines === bar ? 'fit fit-not' : 'fit'}>
      <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
        <path d={lines} />
      </svg>
      {word}
    </strong>
  );
}

/** The verdict on one place and the millimetres left. */
export function PassageWords(props: { readonly passage: Passage | undefined }) {
  const { passage } = props;
  if (passage === undefined) return <p class="field-hint">Not judged yet.</p>;
  return (
    <>
      <p>
        <FitMark fit={passage.barred ? 'barred' : passage.verdict} />
        {passage.left_mm === undefined ? null : (
          <>
            , <strong>{leftWords(passage.left_mm)}</strong>
          </>
        )}
      </p>
      <p>{sentenceOf(passage.message)}</p>
    </>
  );
}

/** What the verdict rests on. */
export function PassageRests(props: { readonly passage: Passage | undefined; readonly open?: boolean | undefined }) {
  const [assumption, reference] = [sentenceOf(props.passage?.assumes), sentenceOf(props.passage?.reference)];
  if (assumption === '' && reference === '') return null;
  return (
    <More summary="What it assumes, and figures to compare" open={props.open}>
      {assumption ? <p>{assumption}</p> : null}
      {reference ? <p>{reference}</p> : null}
    </More>
  );
}
