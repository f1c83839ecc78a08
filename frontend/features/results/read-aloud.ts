/**
 * What the therapist reads to the person at the end of the visit: short
 * sentences, no scores, and never a level without its next step.
 */
import { isLevel, levelWord } from '../../ui/level-door';
import { nextLevel } from '../../ui/result/explain';
import type { Titles } from '../../ui/result/titles';
import { dateWords } from '../../ui/words';
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

const STEPS_SAID = 3;

export interface Said {
  /** The level that counts: the therapist's decision where there is one. */
  readonly level: string;
  /** A date, or empty. */
  readonly recheck: string;
}

/** The sentences to read aloud, in order. */
export function readAloud(result: Result, titles: Titles, said: Said): readonly string[] {
  return [
    'Thank you for showing how you drive today.',
    levelSentence(said.level),
    'A level says how much help is needed now. It is not a verdict on you, and it can change.',
    ...stopSentences(result, titles),
    ...nextSentences(result, titles),
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

function stopSentences(result: Result, titles: Titles): readonly string[] {
  const open = result.effects.filter((effect) => effect.effect === 'stop' || effect.effect === 'stop-control');
  return open.length === 0
    ? []
    : [
        `Before driving goes on, this comes first: ${listed(
          open.map((effect) => effect.item),
          titles,
        )}.`,
      ];
}

function nextSentences(result: Result, titles: Titles): readonly string[] {
  const next = nextLevel(result.level);
  const items = (result.up ?? []).flatMap((step) => step.item ?? []).slice(0, STEPS_SAID);
  if (!next) return ['We keep an eye on it together so that it stays this way.'];
  if (items.length === 0) return [`We plan together what leads to the next level, ${levelWord(next)}.`];
  return [`What helps most towards the next level, ${levelWord(next)}: ${listed(items, titles)}.`];
}

/** Items by their titles, each once: the engine's sentences hold numbers, and this is read to a person. */
function listed(items: readonly string[], titles: Titles): string {
  return [...new Set(items)].map((item) => (titles.item(item)?.title ?? item).toLowerCase()).join('; ');
}
