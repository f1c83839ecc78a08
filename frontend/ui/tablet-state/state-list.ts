/**
 * Everything that can be wrong on a tablet, in one list: what it is, what it
 * does to the person's work, and what they can do. The most serious comes first.
 */
import { timeWords, countWords } from '../words';
import type { DatabaseState, SyncState } from '../../lib';
import { serverLimits } from '../../lib/model.gen';
import type { OfflineCopy, UpdateState } from './update';

/** What the browser says about the room that it gives us. */
export interface Room {
  /** It promised not to clear our records when space is short; null when it cannot say. */
  readonly kept: boolean | null;
  /** Bytes left, null when it cannot say. */
  readonly left: number | null;
}

export interface Facts {
  /** Milliseconds, this tablet's clock. */
  readonly now: number;
  readonly sync: SyncState;
  /** Visits of which something is on this tablet only. */
  readonly visitsHere: number;
  readonly records: DatabaseState;
  readonly room: Room;
  readonly update: UpdateState;
  readonly offlineCopy: OfflineCopy;
}

/** stop: nothing can be saved, or a loss is near. caution: somebody must act. note: worth knowing. */
export type Weight = 'stop' | 'caution' | 'note';

/** What the person may press. */
export type Remedy = 'reload' | 'sign-in' | 'update' | 'read' | 'read-altered' | 'read-set-back';

export interface State {
  readonly id: string;
  readonly weight: Weight;
  readonly title: string;
  readonly text: string;
  readonly todo: string;
  readonly remedy?: Remedy;
}

/** Proposals, not validated: a day on one tablet only is too long; below 50 MB the room is short. */
const LONG_MS = 24 * 60 * 60_000;
const LITTLE_ROOM = 50_000_000;
/** The server flags entries beyond this, and so does the tablet. */
const clockOffS = serverLimits.clockSkewMs / 1000;

const weights: readonly Weight[] = ['stop', 'caution', 'note'];

export function states(facts: Facts): readonly State[] {
  const all = [
    recordsState(facts),
    onlyHere(facts),
    ...alteredStates(facts),
    leftBehind(facts),
    ...serverStates(facts),
    ...tabletStates(facts),
  ];
  return all.filter((one) => one !== null).sort((a, b) => weights.indexOf(a.weight) - weights.indexOf(b.weight));
}

function recordsState({ records, sync }: Facts): State | null {
  const of = (title: string, text: string, todo: string, remedy?: Remedy): State => ({
    id: records,
    weight: 'stop',
    title,
    text,
    todo,
    ...(remedy ? { remedy } : {}),
  });
  switch (records) {
    case 'well':
      return null;
    case 'blocked':
      return of(
        'The records are held by another tab',
        'Another tab or window of Doorsill is still at work with them.',
        'Close the other Doorsill tabs. This one then goes on.',
      );
    case 'outdated':
      return of(
        'This tab is out of date',
        'Doorsill was updated in another tab. Nothing can be saved in this one any more; what was saved is safe.',
        'Copy what you have typed here and not saved, then reload.',
        'reload',
      );
    case 'deleted':
      return of(
        'The records on this tablet were deleted',
        `The browser, or somebody in its settings, deleted them while Doorsill was open. ${unsent(sync.waiting)}`,
        'Copy what you see to paper, then reload and sign in with a network: what the server has comes back.',
        'reload',
      );
    case 'lost':
      return of(
        'The browser closed the records',
        'They could not be opened again, so nothing can be saved now. What was marked as saved is still on this tablet.',
        'Copy what you have typed here and not saved, then reload.',
        'reload',
      );
    case 'full':
      return of(
        'This tablet has no room left',
        'The last entry was not saved. It is still on its screen.',
        'Remove pictures, films or apps from the tablet, then save again.',
      );
  }
}

function unsent(count: number): string {
  if (count === 0) return 'Everything in them had been sent.';
  return `${countWords(count, 'entry', 'entries')} in them had not been sent and ${count === 1 ? 'is' : 'are'} lost here.`;
}

/** The line that stands on every screen; null while nothing has waited for long. */
export function onlyHere({ now, sync, visitsHere }: Facts): State | null {
  if (sync.waiting === 0) return null;
  const age = now - Date.parse(sync.oldestWaiting);
  // A time in the future, or none, says that the clock was off: then nobody knows for how long.
  const known = age > -clockOffS * 1000;
  if (known && age < LONG_MS) return null;
  const what = visitsHere > 0 ? countWords(visitsHere, 'visit') : countWords(sync.waiting, 'entry', 'entries');
  const since = known ? `for ${spanWords(age / 1000)}` : 'since a time when its clock was off';
  return {
    id: 'only-here',
    weight: 'stop',
    title: `${what} only on this tablet ${since}`,
    text: `If this tablet is lost or breaks, ${countWords(sync.waiting, 'entry is', 'entries are')} lost with it. The oldest was written ${timeWords(sync.oldestWaiting)}.`,
    todo: 'Go where there is a network, sign in and press “Send and fetch now”.',
  };
}

function alteredStates({ sync }: Facts): readonly (State | null)[] {
  const of = (id: 'altered' | 'set-back', title: string, text: string): State => ({
    id,
    weight: 'caution',
    title,
    text,
    todo: 'Tell your administrator today. Sign in with a network and send, then look through what you entered last.',
    remedy: `read-${id}`,
  });
  return [
    sync.altered.rows === ''
      ? null
      : of(
          'altered',
          'Records here were changed outside Doorsill',
          `This was found ${timeWords(sync.altered.rows)}: records on this tablet were changed, removed or put back to an older state while it was locked, by somebody or by a fault. What still opens was kept. With a network all that you entered is sent again and the rest is fetched anew; until then some of what you see may be old.`,
        ),
    sync.altered.whole === ''
      ? null
      : of(
          'set-back',
          'The records here are older than they should be',
          `This was found ${timeWords(sync.altered.whole)}: the server has entries of this tablet that the tablet itself had lost. Its storage was put back to an older state, by somebody or by a copy that was restored. The server’s entries are fetched; what was never sent since that state is lost.`,
        ),
  ];
}

function leftBehind({ sync }: Facts): State | null {
  if (sync.holdings.length === 0) return null;
  const held = sync.holdings
    .map(
      (one) =>
        `${one.label || 'a tablet'} with ${countWords(one.waiting, 'entry', 'entries')}${one.oldest ? `, the oldest written ${timeWords(one.oldest)}` : ''}`,
    )
    .join('; ');
  return {
    id: 'left',
    weight: 'caution',
    title: 'Entries that the server never got',
    text: `When this tablet was set up for you, the server had last heard of: ${held}. If that was this very device and its storage was cleared since, those entries are lost; there may be more that the server never heard of.`,
    todo: 'If it was another device, sign in there and send. If it was this one, enter them again from your notes.',
    remedy: 'read',
  };
}

function serverStates({ sync }: Facts): readonly (State | null)[] {
  return [
    errorState(sync),
    sync.refused.length === 0
      ? null
      : {
          id: 'refused',
          weight: 'caution',
          title: `${countWords(sync.refused.length, 'entry', 'entries')} set aside by the server`,
          text: 'Nothing is thrown away: the server keeps them and your lead sees them, but they do not count.',
          todo: 'Each stands below with its reason and what to do.',
        },
    sync.needsChoice === 0
      ? null
      : {
          id: 'choice',
          weight: 'caution',
          title: `${countWords(sync.needsChoice, 'visit needs', 'visits need')} your choice`,
          text: 'Two people answered one question differently. Both answers stay in the record, and until somebody chooses the more cautious one counts.',
          todo: 'Choose below.',
        },
    sync.newer === 0
      ? null
      : {
          id: 'newer',
          weight: 'caution',
          title: 'Update the app',
          text: `${countWords(sync.newer, 'entry', 'entries')} on this tablet ${sync.newer === 1 ? 'comes' : 'come'} from a newer version of Doorsill. They are kept, but do not show or count here.`,
          todo: 'Reload with a network and take the new version.',
        },
  ];
}

function errorState({ error, asked, online, waiting }: SyncState): State | null {
  if (error === null) {
    return !asked || online
      ? null
      : {
          id: 'offline',
          weight: 'note',
          title: 'The server cannot be reached',
          text: `Everything works without it. ${waiting === 0 ? 'Nothing waits to be sent.' : 'What you save stays on this tablet meanwhile.'}`,
          todo: 'Nothing: it is tried again by itself.',
        };
  }
  const of = (title: string, todo: string, remedy?: Remedy): State => ({
    id: `error-${error.code}`,
    weight: 'caution',
    title,
    text: error.message,
    todo,
    ...(remedy ? { remedy } : {}),
  });
  switch (error.code) {
    case 'sign-in':
    case 'tablet':
      return of('Not signed in with the server', 'Sign in again; you stay where you are.', 'sign-in');
    case 'portal':
      return of(
        'This network is not connected yet',
        'Open any other page in the browser, sign in to the network there, then press “Send and fetch now”. Nothing was sent and nothing was lost.',
      );
    case 'server-full':
      return of('The server is full', 'Go on working. Nothing is marked as sent before the server has it.');
    case 'quarantine-full':
      return of('Too much is set aside', 'Go on working. Nothing is marked as sent before the server has it.');
    case 'damaged':
      return of('Damaged records', 'Go on working, and tell your administrator today.');
    default:
      return of('Sending does not work', 'Go on working: it is tried again by itself. After a day, tell your administrator.');
  }
}

function tabletStates({ sync, room, update, offlineCopy }: Facts): readonly (State | null)[] {
  return [
    room.left === null || room.left >= LITTLE_ROOM
      ? null
      : {
          id: 'room',
          weight: 'caution',
          title: 'Little room left on this tablet',
          text: `About ${Math.max(0, Math.floor(room.left / 1_000_000))} MB are left. When it is full, nothing more can be saved.`,
          todo: 'Send what waits, and remove pictures, films or apps from the tablet.',
        },
    Math.abs(sync.clockAhead) < clockOffS
      ? null
      : {
          id: 'clock',
          weight: 'caution',
          title: `This tablet’s clock is ${spanWords(nearestMinute(Math.abs(sync.clockAhead)))} ${sync.clockAhead > 0 ? 'ahead' : 'behind'}`,
          text: 'Entries keep their order and nothing is lost, but the times on them are wrong, and so are the days of waiting. The server marks such entries.',
          todo: 'Set date and time in the tablet’s settings, best “automatic”.',
        },
    offlineCopy !== 'none'
      ? null
      : {
          id: 'no-copy',
          weight: 'caution',
          title: 'Doorsill does not start without a network here',
          text: 'The browser could not keep a copy of the app. What you save is kept all the same.',
          todo: 'Do not close this page before the visit is over. Use a current browser, and no private window.',
        },
    update === 'none'
      ? null
      : {
          id: 'update',
          weight: 'note',
          title: update === 'waiting' ? 'A new version is ready' : 'A new version has taken over',
          text:
            update === 'waiting'
              ? 'It takes a moment, and you sign in again. What is saved stays.'
              : 'Another tab was updated. This one still shows the version before.',
          todo: update === 'waiting' ? 'Take it when nothing is half typed.' : 'Finish what you are typing and save it, then reload.',
          remedy: update === 'waiting' ? 'update' : 'reload',
        },
    room.kept !== false
      ? null
      : {
          id: 'not-kept',
          weight: 'note',
          title: 'The browser may clear this tablet’s records',
          text: 'It has not promised to keep them when the tablet’s storage runs short.',
          todo: 'Put Doorsill on the home screen and open it from there, and send after each visit.',
        },
  ];
}

/** The server's time is as old as its answer was on the way, so seconds say nothing. */
const nearestMinute = (seconds: number): number => Math.round(seconds / 60) * 60;

/** "3 days", rounded down to the largest unit of which there are at least two. */
export function spanWords(seconds: number): string {
  const units = [
    ['year', 31_557_600],
    ['day', 86_400],
    ['hour', 3_600],
    ['minute', 60],
  ] as const;
  const [unit, size] = units.find(([, each]) => seconds >= 2 * each) ?? ['minute', 60];
  return countWords(Math.floor(seconds / size), unit);
}
