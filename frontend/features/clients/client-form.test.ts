import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isDate } from '../../lib/dates';
import { bodyOf, changesOf, emptyDraft, problemsOf, readDraft, type ClientDraft } from './client-form';

const TODAY = '2026-03-05';
const GOOD: ClientDraft = { ...emptyDraft('team-a', TODAY), name: 'Invented Person', ref: 'A-1', course: 'stable' };

test('a complete draft has no problem', () => {
  assert.deepEqual(problemsOf(GOOD, TODAY), []);
});

test('each problem names its field and what is expected', () => {
  const cases: readonly (readonly [Partial<ClientDraft>, string])[] = [
    [{ name: '  ' }, 'Name: write the client’s name as your service writes it.'],
    [{ ref: 'x'.repeat(65) }, 'Service number: expected at most 64 characters, got 65.'],
    [{ born: '1990-02-30' }, 'Date of birth: expected a day that exists, such as 2026-03-05, got “1990-02-30”.'],
    [{ born: '2026-03-06' }, 'Date of birth: expected today or earlier, got 2026-03-06.'],
    [{ referred: '' }, 'Date of referral: choose the day when the referral arrived.'],
    [{ referred: '1026-03-05' }, 'Date of referral: expected 1900 or later, got 1026-03-05.'],
    [{ priority: 'now' }, 'Priority: choose one of urgent, soon, routine.'],
    [{ course: '' }, 'Course: choose one of stable, getting weaker slowly, getting weaker fast, up and down, getting stronger.'],
    [{ name: 'x'.repeat(201) }, 'Name: expected at most 200 characters, got 201.'],
  ];
  for (const [change, want] of cases) {
    assert.deepEqual(
      problemsOf({ ...GOOD, ...change }, TODAY).map((p) => p.message),
      [want],
    );
  }
});

test('an empty form names every field that is needed', () => {
  const fields = problemsOf(emptyDraft('', ''), TODAY).map((p) => p.field);
  assert.deepEqual(fields, ['team', 'name', 'referred', 'course']);
});

test('days that do not exist are no dates', () => {
  for (const bad of ['', '2026-2-3', '2025-02-29', '05.03.2026', '2026-13-01']) assert.equal(isDate(bad), false, bad);
  assert.equal(isDate('2024-02-29'), true);
});

test('the body leaves out what was left empty', () => {
  assert.deepEqual(bodyOf({ ...GOOD, name: ' Invented Person ' }), {
    team: 'team-a',
    name: 'Invented Person',
    ref: 'A-1',
    referred: TODAY,
    priority: 'routine',
    course: 'stable',
  });
});

test('a change names only the fields that differ', () => {
  assert.deepEqual(changesOf({ ...GOOD, priority: 'urgent', team: 'other' }, GOOD), { priority: 'urgent' });
});

test('a kept draft comes back as it was, but not in a team that the person has left', () => {
  assert.deepEqual(readDraft(structuredClone(GOOD), ['team-b', 'team-a']), GOOD);
  assert.equal(readDraft(GOOD, ['team-b']), null);
  assert.equal(readDraft(null, ['team-a']), null);
  assert.equal(readDraft({ team: 'team-a', name: 'of an older version' }, ['team-a']), null);
});
