import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFormDrafts } from './form-drafts';
import { apart, merge } from './merge';

function setUp() {
  const disk = new Map<string, unknown>();
  let waits: (() => void) | undefined;
  const timers = {
    set: (run: () => void) => {
      waits = run;
      return run;
    },
    clear: () => {
      waits = undefined;
    },
  };
  const rows = {
    keys: () => [...disk.keys()],
    load: (key: string) => disk.get(key) ?? null,
    keep: (key: string, value: unknown) => void disk.set(key, structuredClone(value)),
    drop: (key: string) => void disk.delete(key),
  };
  return { disk, open: () => createFormDrafts(rows, timers), wait: () => waits?.() };
}

test('what was typed is there again for another page, and many keys are one write', () => {
  const { disk, open, wait } = setUp();
  const drafts = open();
  for (const value of ['6', '65', '650']) drafts.put('v1', 'chair', { value, before: '', title: 'The chair', path: '/visits/v1/home' });
  assert.equal(drafts.of('v1').value['chair']?.value, '650', 'shown at once');
  assert.equal(disk.size, 0, 'and written a moment later');
  wait();
  assert.equal(open().of('v1').value['chair']?.value, '650');
  assert.deepEqual(
    open()
      .begun()
      .map(({ about, name, title, path }) => [about, name, title, path]),
    [['v1', 'chair', 'The chair', '/visits/v1/home']],
  );
});

test('a lock writes what waits, and what is dropped leaves the disk', () => {
  const { disk, open } = setUp();
  const drafts = open();
  drafts.put('v1', 'chair', { value: '650', before: '', title: 'The chair' });
  drafts.flush();
  assert.deepEqual([...disk.keys()], ['form:v1']);
  drafts.put('v1', 'chair', undefined);
  drafts.flush();
  assert.equal(disk.size, 0);
});

test('where somebody was is not unsaved work', () => {
  const { disk, open } = setUp();
  const drafts = open();
  drafts.put('v1', 'take out', { value: true, before: false });
  drafts.flush();
  assert.deepEqual([...disk.keys()], ['at:v1']);
  assert.deepEqual(open().begun(), []);
  assert.equal(open().of('v1').value['take out']?.value, true);
});

test('nothing of the last person stays in memory', () => {
  const { disk, open, wait } = setUp();
  const drafts = open();
  drafts.put('v1', 'chair', { value: '650', before: '', title: 'The chair' });
  drafts.forget();
  wait();
  assert.equal(drafts.of('v1').value['chair'], undefined);
  assert.equal(disk.size, 0, 'and nothing of theirs is written into the rows of the next');
});

for (const damaged of [null, 7, 'x', [], { chair: 7 }, { chair: { before: 1 } }])
  test(`a damaged row ${JSON.stringify(damaged)} holds no draft`, () => {
    const { disk, open } = setUp();
    disk.set('form:v1', damaged);
    assert.deepEqual(open().of('v1').value, {});
  });

test('each field of a form keeps what was typed, and shows what others saved in the rest', () => {
  const before = { name: 'door', figures: { width: '', corridor: '900' } };
  const mine = { name: 'door', figures: { width: '780', corridor: '900' } };
  const theirs = { name: 'bathroom door', figures: { width: '', corridor: '950' } };
  assert.deepEqual(merge(before, mine, theirs), { name: 'bathroom door', figures: { width: '780', corridor: '950' } });
  assert.equal(apart(before, mine, theirs), false);
  const clash = { ...theirs, figures: { width: '800', corridor: '950' } };
  assert.equal(merge(before, mine, clash).figures.width, '780', 'a text is never replaced under the hands of its writer');
  assert.equal(apart(before, mine, clash), true, 'and that somebody saved another is said');
});

test('a draft of an older version of the app stands only where it still fits', () => {
  assert.deepEqual(merge({}, { name: 7, sites: 'x' }, { name: 'door', sites: ['jaw'] }), { name: 'door', sites: ['jaw'] });
  assert.deepEqual(merge({ name: '' }, { name: 'x' }, { name: '', place: 'hall' }), { name: 'x', place: 'hall' });
});
