import { More } from '../../ui';
import type { Passage, PassageFit } from '../../lib/engine/result';
import { leftWords } from './plan';

const fits: Readonly<Record<PassageFit, { readonly sign: string; readonly word: string }>> = {
  fits: { sign: '●', word: 'Fits' },
  tight: { sign: '◐', word: 'Tight' },
  'does-not-fit': { sign: '○', word: 'Does not fit' },
  unknown: { sign: '?', word: 'Not known' },
};

/** The verdict in words, with a shape beside it. */
export function FitMark(props: { readonly fit: PassageFit }) {
  const { sign, word } = fits[props.fit];
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
  return (
    <>
      <p>
        <FitMark fit={passage.fit} />
        {passage.left === null ? null : (
          <>
            , <strong>{leftWords(passage.left)}</strong>
          </>
        )}
      </p>
      <p>{passage.sentence}</p>
      {passage.assumption || passage.reference ? (
        <More summary="What it assumes, and figures to compare" open={props.open}>
          {passage.assumption ? <p>{passage.assumption}</p> : null}
          {passage.reference ? <p>{passage.reference}</p> : null}
        </More>
      ) : null}
    </>
  );
}
