/**
 * What becomes of rows that are not what their root says. Nothing that opens is
 * thrown away. What stands in clear is worked out anew or asked of the server
 * again, as after a restore of the server: everything of one's own is sent again,
 * everything of the teams is taken in again, and what the server turns out not
 * to have does not count. The organisation's key is forgotten until the server
 * tells it, since visits would be sealed to whoever put another in its place.
 */
import { newId, toText } from '../bytes';
import type { Cipher } from '../crypto/cipher';
import type { Event } from '../model.gen';
import { readEvent, refOf } from './event';
import { textOf, type Rows } from './guarded';
import {
  ALTERED,
  cursorKey,
  cursorTeam,
  personStores,
  type EventRow,
  type MetaRow,
  type PersonSchema,
  type SealedRow,
  type SubjectRow,
} from './rows';

interface MendDeps {
  readonly cipher: Cipher;
  readonly tablet: string;
  readonly turn: number;
  readonly now: () => Date;
}

/** Numbers that may be missing behind the last own entry before the counter is taken for a forged one. */
const MOST_MISSING = 10_000;
/** What in meta is sealed and still does not outlive a change: it is known or learnt anew. */
const relearnt: ReadonlySet<string> = new Set(['organisation', 'refused', 'forgotten']);
/** No log of any server: it says so, and everything begins anew. */
const NO_LOG = 'unknown';

export async function mendRows(found: Rows, deps: MendDeps): Promise<Rows> {
  const rows = withoutForeign(found);
  const before = new Map(rows.events.map((row) => [row.key, row]));
  const events = await Promise.all(rows.events.map((row) => mendEvent(row, deps)));
  return {
    ...rows,
    events,
    subjects: mendSubjects(rows.subjects, events, before),
    meta: mendMeta(rows.meta, events, deps),
    // Kept, and not taken for copies of what is to be copied.
    sealed: rows.sealed.map((row): SealedRow => (row.tablet === '' ? row : { ...row, tablet: '' })),
  };
}

/** Without rows that no version of this program can have written: they have fields that do not even compare. */
export function withoutForeign(rows: Rows): Rows {
  const isOwn = (store: keyof Rows) => (row: PersonSchema[keyof Rows]['value']) => {
    try {
      return textOf(store, row) !== '';
    } catch {
      return false;
    }
  };
  return Object.fromEntries(personStores.map((store) => [store, rows[store].filter(isOwn(store))])) as unknown as Rows;
}

/** An entry in its own place, with no word of the server on it. */
async function mendEvent(row: EventRow, { cipher, tablet }: MendDeps): Promise<EventRow> {
  const box = row.box instanceof Uint8Array ? row.box : new Uint8Array(0);
  const event = await openEvent(cipher, row.key, box);
  const [, by = '', n = ''] = /^(.*):([1-9]\d*)$/.exec(row.key) ?? [];
  const isOwn = n !== '' && (by === tablet || row.own === Number(n));
  return {
    key: row.key,
    subject: event?.subject ?? String(row.subject),
    pos: 0,
    ...(isOwn ? { own: Number(n) } : {}),
    ...(typeof row.team === 'string' ? { team: row.team } : {}),
    box,
  };
}

async function openEvent(cipher: Cipher, key: string, box: Uint8Array): Promise<Event | undefined> {
  try {
    const event = readEvent(JSON.parse(toText(await cipher.open('events', key, box))));
    return key.startsWith(refOf(event)) ? event : undefined;
  } catch {
    return undefined;
  }
}

/** Every subject is folded anew, also one whose row is gone. What was written of a team that is not on this device stays out of sight. */
function mendSubjects(
  rows: readonly SubjectRow[],
  events: readonly EventRow[],
  before: ReadonlyMap<string, EventRow>,
): readonly SubjectRow[] {
  const shown = new Map(rows.map((row) => [row.key, row]));
  for (const { key, subject, own } of events) {
    if (!shown.has(subject) && (own === undefined || before.get(key)?.pos === 0)) shown.set(subject, { key: subject });
  }
  return [...shown.values()].map(({ key, box }) => ({
    key,
    stale: 1,
    mark: newId(),
    ...(box instanceof Uint8Array ? { box } : {}),
  }));
}

function mendMeta(rows: readonly MetaRow[], events: readonly EventRow[], { turn, now }: MendDeps): readonly MetaRow[] {
  const found = new Map(rows.map((row) => [row.key, row]));
  const sealed = rows.flatMap(({ key, box }): readonly MetaRow[] =>
    box instanceof Uint8Array && !relearnt.has(key) ? [{ key, box }] : [],
  );
  const own = events.flatMap((row) => row.own ?? []).sort((a, b) => a - b);
  const [first = 0, last = 0] = [own[0], own.at(-1)];
  const counted = found.get('n')?.number ?? 0;
  const n = own.length === 0 || (counted > last && counted <= last + MOST_MISSING) ? counted : last;
  const teams = new Set([...rows.flatMap(({ key }) => cursorTeam(key) ?? []), ...events.flatMap(({ team }) => team ?? [])]);
  const log = found.get('log')?.text ?? '';
  const sent = found.get('sent')?.text;
  return [
    ...sealed,
    ...[...teams].map((team): MetaRow => ({ key: cursorKey(team), number: 0, old: 1 })),
    { key: 'n', number: n },
    { key: 'ack', number: 0 },
    { key: 'gone', number: own.length === 0 ? n : first - 1 },
    ...(turn > 0 ? [{ key: 'turn', number: turn }] : []),
    ...(log === '' && events.length === 0 ? [] : [{ key: 'log', text: log === '' ? NO_LOG : log }]),
    ...(sent === undefined ? [] : [{ key: 'sent', text: sent }]),
    { key: ALTERED.rows, text: now().toISOString() },
  ];
}
