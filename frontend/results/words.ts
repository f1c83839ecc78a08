/** The words that people read for the ids in a result. */
import type { LevelId, Verdict } from './result';

interface LevelWords {
  readonly name: string;
  /** What it means for the person, one sentence. */
  readonly meaning: string;
  /** How the door is drawn, for those who cannot see it. */
  readonly door: string;
}

export const LEVEL_WORDS: Readonly<Record<LevelId, LevelWords>> = {
  pause: { name: 'Pause', meaning: 'No driving for now.', door: 'door shut' },
  practise: {
    name: 'Practise',
    meaning: 'Driving only as practice; a trained person holds a working separate stop.',
    door: 'door ajar',
  },
  accompanied: {
    name: 'Accompanied',
    meaning: 'Drives; a trained person is within reach and sight.',
    door: 'door half open',
  },
  'home-ground': {
    name: 'Home ground',
    meaning: 'Drives alone in the rooms and at the times that are named.',
    door: 'door open',
  },
  'wider-ground': {
    name: 'Wider ground',
    meaning: 'Drives alone, also on the outdoor routes that are named.',
    door: 'door wide open',
  },
};

/** The name of a level, or the id itself when this program does not know it. */
export function levelName(id: string): string {
  return Object.hasOwn(LEVEL_WORDS, id) ? LEVEL_WORDS[id as LevelId].name : id;
}

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  feasible: 'feasible',
  marginal: 'marginal',
  'not-feasible': 'not feasible',
  unknown: 'no verdict yet',
};

const EFFECT_WORDS: Readonly<Record<string, string>> = {
  stop: 'STOP',
  'stop-control': 'STOP-CONTROL',
  'stop-vehicle': 'STOP-VEHICLE',
};

const EFFECT_MEANING: Readonly<Record<string, string>> = {
  stop: 'No driving with any control until this is answered anew.',
  'stop-control': 'This control at this site may not be used until this is answered anew.',
  'stop-vehicle': 'May not travel seated in a vehicle. Driving itself is not affected.',
};

/** The printed word of an effect: STOP, STOP-CONTROL, STOP-VEHICLE or LIMIT with its level. */
export function effectWord(effect: string): string {
  if (effect.startsWith('limit:')) return `LIMIT: ${levelName(effect.slice('limit:'.length))}`;
  return EFFECT_WORDS[effect] ?? effect;
}

/** What an effect does, one sentence. */
export function effectMeaning(effect: string): string {
  if (effect.startsWith('limit:')) return `The level is not above ${levelName(effect.slice('limit:'.length))} while this stands.`;
  return EFFECT_MEANING[effect] ?? '';
}

/** True for the effects that are shown first, before any score. */
export function isStop(effect: string): boolean {
  return effect.startsWith('stop');
}

/** A site id in words: "index-right" becomes "index, right". */
export function siteWords(site: string): string {
  const side = /^(.*)-(left|right)$/.exec(site);
  const plain = (side?.[1] ?? site).replaceAll('-', ' ');
  return side ? `${plain}, ${side[2]}` : plain;
}

/** A plain label from an id with hyphens: "not-tested" becomes "not tested". */
export function plainWords(id: string): string {
  return id.replaceAll('-', ' ');
}

/** A date such as 2026-03-05 as "5 Mar 2026"; what is no date stays as it is. */
export function dayWords(date: string): string {
  const parts = /^(\d{4})-(\d{2})-(\d{2})/.exec(date);
  if (!parts) return date;
  const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
  const month = months[Number(parts[2]) - 1];
  return month ? `${Number(parts[3])} ${month} ${parts[1]}` : date;
}

/** An RFC 3339 time as the reader's own clock shows it, without seconds. */
export function timeWords(at: string): string {
  const when = new Date(at);
  if (Number.isNaN(when.getTime())) return at;
  return when.toLocaleString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
}

/** Counts in words: "1 visit", "3 visits". */
export function countWords(n: number, one: string, many = `${one}s`): string {
  return `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;
}
