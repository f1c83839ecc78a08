import { Banner, isLevel, LevelDoor, levelWord } from '..';
import type { Result } from '../../lib/model.gen';
import { Term } from '../term';
import { sentenceOf } from '../words';
import { LEVEL_MEANING } from './words';

/** What the server has said about the result that is shown. */
export type Standing = 'provisional' | 'confirmed' | 'differs';

const STANDING: Readonly<Record<Standing, string>> = {
  provisional: 'worked out on this tablet, not yet confirmed by the server.',
  confirmed: 'Confirmed by the server.',
  differs: 'The server worked out something else than this tablet. The server’s result is shown.',
};

/** The level that counts: the therapist's decision where it was accepted. */
export function effectiveLevel(result: Result): string {
  return result.override?.accepted ? result.override.level : result.level;
}

/** How sure the level is: a therapist's decision, too few drives, and what the server said. */
export function LevelStanding(props: { readonly result: Result; readonly standing: Standing }) {
  const { result, standing } = props;
  return (
    <>
      {result.override?.accepted ? (
        <p>
          <strong>Therapist decision.</strong> Calculated: {levelWord(result.level)}. {sentenceOf(result.override.message)}
        </p>
      ) : null}
      {result.interim ? (
        <p>
          <strong>
            <Term id="interim" />.
          </strong>{' '}
          It still rests on something that was not tested.
        </p>
      ) : null}
      {standing === 'differs' ? (
        <Banner tone="caution">{STANDING.differs}</Banner>
      ) : (
        <p class="level-standing">
          {standing === 'provisional' ? (
            <>
              <Term id="provisional" />:{' '}
            </>
          ) : null}
          {STANDING[standing]}
        </p>
      )}
      {result.override && !result.override.accepted ? (
        <Banner tone="caution" title="Decision not accepted">
          {sentenceOf(result.override.message)}
        </Banner>
      ) : null}
    </>
  );
}

/** The level as a door with its word, how sure it is, and the sentence behind it. */
export function LevelHead(props: { readonly result: Result; readonly standing: Standing }) {
  const { result, standing } = props;
  const level = effectiveLevel(result);
  return (
    <div class="level-head">
      <LevelDoor level={level} size="large" interim={result.interim} provisional={standing === 'provisional'} />
      <div class="level-says">
        <p class="level-meaning">{isLevel(level) ? LEVEL_MEANING[level] : ''}</p>
        <p>{sentenceOf(result.headline) || sentenceOf(result.message)}</p>
        <LevelStanding result={result} standing={standing} />
      </div>
    </div>
  );
}
