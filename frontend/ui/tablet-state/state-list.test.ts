import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { DatabaseState, SyncState } from '../../lib';
import { onlyHere, spanWords, states, type Facts } from './state-list';

const NOW = Date.parse('2026-03-10T09:00:00.000Z');

const quietSync: SyncState = {
  asked: true,
  online: true,
  running: false,
  lastSent: '2026-03-10T08:00:00.000Z',
  waiting: 0,
  oldestWaiting: '',
  refused: [],
  dealtWith: [],
  needsChoice: 0,
  newer: 0,
  holdings: [],
  altered: { rows: '', whole: '' },
  clockAhead: 0,
  error: null,
};

function facts(sync: Partial<SyncState> = {}, more: Partial<Facts> = {}): Facts {
  return {
    now: NOW,
    sync: { ...quietSync, ...sync },
    visitsHere: 0,
    records: 'well',
    room: { kept: true, left: 9_000_000_000 },
    update: 'none',
    offlineCopy: 'here',
    ...more,
  };
}

const titles = (of: Facts) => states(of).map((one) => `${one.weight}: ${one.title}`);

test('a tablet on which all is well says nothing', () => {
  assert.deepEqual(titles(facts()), []);
  assert.deepEqual(titles(facts({}, { room: { kept: null, left: null } })), [], 'a browser that cannot say is not a fault');
});

test('visits that exist only here are said in red after a day and not before', () => {
  const waiting = { waiting: 41, oldestWaiting: '2026-03-09T09:00:01.000Z' };
  assert.equal(onlyHere(facts(waiting, { visitsHere: 3 })), null);
  const late = onlyHere(facts({ ...waiting, oldestWaiting: '2026-03-08T08:00:00.000Z' }, { visitsHere: 3 }));
  assert.equal(late?.title, '3 visits only on this tablet for 2 days');
  assert.match(late?.text ?? '', /41 entries are lost with it/);
  assert.equal(late?.weight, 'stop');
});

test('an entry from the future has been here for nobody knows how long, so it counts as long', () => {
  for (const oldestWaiting of ['2036-03-10T09:00:00.000Z', '']) {
    assert.match(
      onlyHere(facts({ waiting: 1, oldestWaiting }))?.title ?? '',
      /^1 entry only on this tablet since a time when its clock was off$/,
    );
  }
});

test('every state of the records but "well" stops the work and says what to do', () => {
  for (const records of ['blocked', 'outdated', 'deleted', 'lost', 'full'] satisfies DatabaseState[]) {
    const [one] = states(facts({ waiting: 2, oldestWaiting: '2026-03-10T08:59:00.000Z' }, { records }));
    assert.equal(one?.id, records);
    assert.equal(one?.weight, 'stop');
    assert.notEqual(one?.todo, '');
  }
  assert.match(
    states(facts({ waiting: 2 }, { records: 'deleted' }))[0]?.text ?? '',
    /2 entries in them had not been sent and are lost here/,
  );
});

test('what the server says is told apart, each with a remedy of its own', () => {
  const of = (code: string) => states(facts({ error: { code, message: 'Said so.' } }))[0];
  assert.deepEqual([of('sign-in')?.title, of('sign-in')?.remedy], ['Not signed in with the server', 'sign-in']);
  assert.equal(of('portal')?.title, 'This network is not connected yet');
  assert.equal(of('server-full')?.title, 'The server is full');
  assert.equal(of('quarantine-full')?.title, 'Too much is set aside');
  assert.equal(of('server')?.title, 'Sending does not work');
  assert.deepEqual(titles(facts({ online: false })), ['note: The server cannot be reached']);
});

test('a clock is off from five minutes on, to either side, with its effect', () => {
  assert.deepEqual(titles(facts({ clockAhead: 299 })), []);
  const [one] = states(facts({ clockAhead: -301 }));
  assert.equal(one?.title, 'This tablet’s clock is 5 minutes behind');
  assert.match(one?.text ?? '', /nothing is lost, but the times/);
  // A clock that was set back by a day, told by an answer that was a second on its way.
  assert.deepEqual(titles(facts({ clockAhead: -86_399 })), ['caution: This tablet’s clock is 24 hours behind']);
});

test('room, an update, a missing copy and records that may be cleared are told', () => {
  assert.deepEqual(titles(facts({}, { room: { kept: false, left: 12_300_000 }, update: 'waiting', offlineCopy: 'none' })), [
    'caution: Little room left on this tablet',
    'caution: Doorsill does not start without a network here',
    'note: A new version is ready',
    'note: The browser may clear this tablet’s records',
  ]);
});

test('the most serious stands first', () => {
  const all = states(
    facts(
      { waiting: 1, oldestWaiting: '2026-03-01T09:00:00.000Z', needsChoice: 1, error: { code: 'portal', message: '' } },
      { records: 'lost', update: 'taken' },
    ),
  );
  assert.deepEqual(
    all.map((one) => one.weight),
    ['stop', 'stop', 'caution', 'caution', 'note'],
  );
});

test('spans are told in the largest unit of which there are two', () => {
  assert.deepEqual([90, 7_199, 7_200, 172_799, 172_800, 315_619_200].map(spanWords), [
    '1 minute',
    '119 minutes',
    '2 hours',
    '47 hours',
    '2 days',
    '10 years',
  ]);
});
