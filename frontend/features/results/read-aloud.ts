/**
 * What the therapist reads to the person at the end of the visit: short
 * sentences, no scores, no names of figures, and never a level without its next step.
 */
import { isLevel, levelWord } from '../../ui/level-door';
import { nextLevel } from '../../ui/result/explain';
import { dateWords, sentenceOf } from '../../ui/words';
import type { LevelId, Result } from '../../lib/model.gen';

/** What the level means, said to the person. */
const SAID: Readonly<Record<LevelId, string>> = {
  none: 'We do not know enough yet to say how you can drive, so nobody drives today.',
  pause: 'For now we pause the driving. Something has to be made safe first.',
  practise: 'You can drive as practice. A trained person stays with you and can stop the chair.',
  accompanied: 'You can drive with a trained person close by, where they can see and reach you.',
  'home-ground': 'You can drive by yourself at home, in the rooms and at the times that we agree.',
  'wider-ground': 'You can drive by yourself at home, and outside on the routes that we agree.',
};

export interface Said {
  /** The level that counts: the therapist's decision where there is one. */
  readonly level: string;
  /** A date, or empty. */
  readonly recheck: string;
}

/** The sentences to read aloud, in order. */
export function readAloud(result: Result, said: Said): readonly string[] {
  return [
    'Thank you for showing how you drive today.',
    levelSentence(said.level),
    whySentence(result),
    'A level says how much help is needed now. It is not a verdict on you, and it can change.',
    said.recheck === ''
      ? 'We will agree on a day to look at this again.'
      : `We look at this again by ${dateWords(said.recheck)}, or sooner if anything changes.`,
    'Is there anything that you see differently, or want to ask?',
  ];
}

function levelSentence(level: string): string {
  if (level === 'none') return SAID.none;
  return `The level today is called ${levelWord(level)}.${isLevel(level) ? ` ${SAID[level]}` : ''}`;
}

/** Why it is this level and what comes next, as the engine says it to the client; a result of an earlier version has no such sentence. */
function whySentence(result: Result): string {
  const next = nextLevel(result.level);
  if (sentenceOf(result.aloud) !== '') return sentenceOf(result.aloud);
  return next
    ? `We plan together what leads to the next level, ${levelWord(next)}.`
    : 'We keep an eye on it together so that it stays this way.';
}
