/** The words that people read for the ids in a result. */
import type { LevelId, OverrideReason } from '../../lib/model.gen';
import { plainWords } from '../words';

/** What a level means for the person, one sentence each. */
export const LEVEL_MEANING: Readonly<Record<LevelId, string>> = {
  none: 'Too little is known to say how much support driving needs; nobody drives yet.',
  pause: 'No driving for now.',
  practise: 'Driving only as practice; a trained person holds a working separate stop.',
  accompanied: 'Drives; a trained person is within reach and sight.',
  'home-ground': 'Drives alone in the rooms and at the times that are named.',
  'wider-ground': 'Drives alone, also on the outdoor routes that are named.',
};

export type Verdict = 'feasible' | 'marginal' | 'not-feasible' | 'unknown';

const VERDICTS: readonly Verdict[] = ['feasible', 'marginal', 'not-feasible', 'unknown'];

/** A verdict as a result has it; one from a later version is not known. */
export function verdictOf(id: string): Verdict {
  return VERDICTS.find((one) => one === id) ?? 'unknown';
}

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  feasible: 'works',
  marginal: 'only just works',
  'not-feasible': 'does not work',
  unknown: 'not known yet',
};

/** True for the effects that are shown first, before any score. */
export function isStop(effect: string): boolean {
  return effect.startsWith('stop');
}

/** Why a therapist may decide against the calculated level, in the order of the form. */
export const OVERRIDE_REASONS: readonly { readonly value: OverrideReason; readonly label: string }[] = [
  { value: 'known-driver', label: 'Known driver with a long safe record' },
  { value: 'harder-trial', label: 'The trial was harder than real life' },
  { value: 'fluctuating', label: 'A condition that comes and goes' },
  { value: 'accepted-risk', label: 'The client accepts the risk and has capacity' },
  { value: 'waiting-for-part', label: 'Waiting for a part, safe meanwhile' },
  { value: 'other', label: 'Other' },
];

/** The label of an override reason. */
export function overrideReasonWords(id: string): string {
  return OVERRIDE_REASONS.find((reason) => reason.value === id)?.label ?? plainWords(id);
}
