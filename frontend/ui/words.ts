import { colleagues, session } from '../lib';
import { kinds, type Kind, type Message } from '../lib/model.gen';

/** What a message says in the reader's language; nothing where there is none. */
export function sentenceOf(message: Message | undefined): string {
  return message?.text ?? '';
}

/** A number as read aloud here: a point, no grouping, at most so many decimals and no idle zeros. */
export function numberWords(value: number, decimals = 3): string {
  return String(Number(value.toFixed(decimals))).replace('-', '−');
}

function format(at: string, options: Intl.DateTimeFormatOptions): string {
  const time = new Date(at);
  return Number.isNaN(time.getTime()) ? at : new Intl.DateTimeFormat('en-GB', options).format(time);
}

/** A date as "3 Mar 2026"; text that is no date stays as it is. */
export function dateWords(at: string): string {
  return format(at, { day: 'numeric', month: 'short', year: 'numeric' });
}

/** A time as "3 Mar 2026, 14:05", on this device's clock. */
export function timeWords(at: string): string {
  return format(at, { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
}

/** A plain label from an id with hyphens: "not-tested" becomes "not tested". */
export function plainWords(id: string): string {
  return id.replaceAll('-', ' ');
}

/** Kept, since making one takes longer than drawing a card. */
const grouped = new Intl.NumberFormat('en-GB');

/** Counts in words: "1 visit", "3 visits". */
export function countWords(n: number, one: string, many = `${one}s`): string {
  return `${grouped.format(n)} ${n === 1 ? one : many}`;
}

const kindTitles: Readonly<Record<Kind, string>> = {
  'client-opened': 'New client',
  'client-changed': 'Changed details of a client',
  'client-assigned': 'Responsible person and status',
  'visit-started': 'Start of a visit',
  'visit-noted': 'Visit notes',
  'answer-given': 'Answer',
  'answer-chosen': 'Choice between two answers',
  'reading-taken': 'Reading',
  'reading-marked': 'Reading set aside or counted again',
  'reading-moved': 'Reading moved to another direction or state',
  'run-timed': 'Run of the driving trial',
  'run-marked': 'Run set aside or counted again',
  'setup-chosen': 'Control and place',
  'plan-agreed': 'What happens next',
  'override-made': 'Therapist decision',
  'visit-signed': 'Signature',
  'amendment-made': 'Amendment',
  'control-listed': 'Control of the kit',
  'kit-packed': 'Controls packed for the visit',
  'needs-noted': 'Needs',
  'needs-unset': 'Needs taken back',
  'chair-measured': 'Chair',
  'place-measured': 'Place to get through',
  'setting-changed': 'Changed setting',
  'setting-tried': 'How a changed setting went',
  'mount-noted': 'Mounting',
};

/** What sort of entry it is, as the screens call it. */
export function kindWords(kind: string): string {
  const known = kinds.find((one) => one === kind);
  return known ? kindTitles[known] : 'An entry of another version of the app';
}

/** "you", a colleague's name, or "a colleague" while the name has not come to this tablet. */
export function personName(id: string): string {
  if (id === '') return 'nobody yet';
  if (id === session.value?.person.id) return 'you';
  const name = colleagues.value.get(id)?.name ?? '';
  return name === '' ? 'a colleague' : name;
}
