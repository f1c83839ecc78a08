import { More } from '../../ui';
import { sentenceOf } from '../../ui/words';
import type { Passage } from '../../lib/model.gen';
import { leftWords } from './plan';

const notKnown = { sign: '?', word: 'Not known' };

const fits: Readonly<Record<string, typeof notKnown>> = {
  fits: { sign: '●', word: 'Fits' },
  tight: { sign: '◐', word: 'Tight' },
  'does-not-fit': { sign: '○', word: 'Does not fit' },
  barred: { sign: '⊘', word: 'Barred: nobody drives here' },
};

/** The verdict in words, with a shape beside it. */
function FitMark(props: { readonly fit: string }) {
  const { sign, word } = fits[props.fit] ?? notKnown;
  return (
    <strong class="fit">
      <span aria-hidden="true">{sign}</span> {word}
    </strong>
  );
}

/** The verdict on one place, the millimetres left, and what it rests on. */
export function PassageWords(props: { readonly passage: Passage | undefined; readonly open?: boolean | undefined }) {
  const { passage } = props;
  if (passage === undefined) return <p class="field-hint">Not judged yet.</p>;
  const [assumption, reference] = [sentenceOf(passage.assumes), sentenceOf(passage.reference)];
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
      {assumption || reference ? (
        <More summary="What it assumes, and figures to compare" open={props.open}>
          {assumption ? <p>{assumption}</p> : null}
          {reference ? <p>{reference}</p> : null}
        </More>
      ) : null}
    </>
  );
}
