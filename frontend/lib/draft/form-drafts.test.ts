import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFormDrafts } from './form-drafts';
import { apart, merge, withFieldsOf } from './merge';

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
    change: (key: string, how: (row: unknown) => unknown) => {
      const next = how(disk.get(key));
      if (next === undefined) disk.delete(key);
      else disk.set(key, JSON.parse(JSON.stringify(next)));
      for (const tab of tabs) tab.reread(key);
    },
  };
  const tabs: ReturnType<typeof createFormDrafts>[] = [];
  const open = () => createFormDrafts(rows, timers);
  /** A tab that hears of what others write, as its own row did. */
  const tab = () => {
    const one = open();
    tabs.push(one);
    return one;
  };
  return { disk, open, tab, tabs, wait: () => waits?.() };
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

/** Types into the note of a visit and waits until it is written. */
const type = (tab: ReturnType<typeof createFormDrafts>, value: unknown, name = 'note', before: unknown = '') => {
  tab.put('v1', name, { value, before, title: 'A note', path: '/visits/v1/notes' });
  tab.flush();
};
const shown = (tab: ReturnType<typeof createFormDrafts>, name = 'note') => {
  const { value, others } = tab.of('v1').value[name] ?? { value: undefined };
  return [value, ...(others ?? [])];
};

test('two tabs that type into different fields keep both, whichever writes last or saves', () => {
  const { open } = setUp();
  const [one, two] = [open(), open()];
  for (const tab of [one, two]) tab.of('v1');
  type(one, 'the terrace', 'risks');
  type(two, 'to the shop', 'goals');
  assert.deepEqual(Object.keys(open().of('v1').value).sort(), ['goals', 'risks']);
  two.put('v1', 'goals', undefined);
  two.flush();
  assert.deepEqual(shown(open(), 'risks'), ['the terrace']);
});

test('a tab shows what another one types where nobody types in it, and lets go of it once that was saved', () => {
  const { tab } = setUp();
  const [one, two] = [tab(), tab()];
  two.of('v1');
  type(one, 'the ter');
  type(one, 'the terrace');
  assert.deepEqual(shown(two), ['the terrace']);
  one.put('v1', 'note', undefined);
  one.flush();
  assert.deepEqual(shown(two), [undefined]);
});

test('where two tabs type into the same field both keep what is theirs and show the other, also after a kill', () => {
  for (const hears of [true, false]) {
    const { open, tab, tabs } = setUp();
    const [one, two] = [tab(), tab()];
    two.of('v1');
    if (!hears) tabs.length = 0;
    type(one, 'the ter');
    type(two, 'steps');
    type(one, 'the terrace');
    type(two, 'steps at the back');
    assert.equal(shown(one)[0], 'the terrace', 'never changed under the hands of its writer');
    assert.equal(shown(two)[0], 'steps at the back');
    if (hears)
      assert.deepEqual(
        [shown(one), shown(two)],
        [
          ['the terrace', 'steps at the back'],
          ['steps at the back', 'the terrace'],
        ],
      );
    assert.deepEqual(shown(open()).sort(), ['steps at the back', 'the terrace'], hears ? 'tabs that hear' : 'tabs that hear nothing');
    // What one saves or throws away takes nothing of the other's with it.
    two.put('v1', 'note', undefined);
    two.flush();
    assert.deepEqual(shown(open()), ['the terrace']);
  }
});

test('what a tab that was killed had beside this one stands there once this one is saved', () => {
  const { open, tab } = setUp();
  const [one, two] = [tab(), tab()];
  two.of('v1');
  type(one, 'the terrace');
  type(two, 'steps at the back');
  one.flush();
  assert.deepEqual(shown(open()), ['the terrace', 'steps at the back'], 'on the disk before anybody types on');
  one.forget(); // killed
  two.put('v1', 'note', undefined);
  two.flush();
  assert.deepEqual([shown(two), shown(open())], [['the terrace'], ['the terrace']]);
  two.put('v1', 'note', undefined);
  two.flush();
  assert.deepEqual(shown(open()), [undefined]);
});

test('where one tab is on a screen opens and closes nothing in another', () => {
  const { tab } = setUp();
  const [one, two] = [tab(), tab()];
  two.of('v1');
  one.put('v1', 'take out', { value: true, before: false });
  one.flush();
  type(one, 'the terrace');
  assert.equal(two.of('v1').value['take out'], undefined);
  assert.deepEqual(shown(two), ['the terrace']);
  two.put('v1', 'take out', { value: true, before: false });
  one.put('v1', 'take out', undefined);
  one.flush();
  assert.equal(two.of('v1').value['take out']?.value, true);
});

test('what a tab is typing goes on the disk again when another one threw it away', () => {
  const { open, tab } = setUp();
  const [one, two] = [tab(), tab()];
  two.of('v1');
  type(one, 'the terrace');
  two.put('v1', 'note', undefined);
  two.flush();
  one.flush();
  assert.deepEqual([shown(one), shown(open())], [['the terrace'], ['the terrace']]);
});

test('of a form of several fields those of both tabs are taken together, and a clash is shown', () => {
  const { open, tab } = setUp();
  const before = { width: '', length: '' };
  const [one, two] = [tab(), tab()];
  two.of('v1');
  two.put('v1', 'chair', { value: { width: '620', length: '' }, before, title: 'The chair' });
  type(one, { width: '', length: '1190' }, 'chair', before);
  two.flush();
  for (const each of [one, two, open()]) assert.deepEqual(shown(each, 'chair'), [{ width: '620', length: '1190' }]);
  type(one, { width: '650', length: '1190' }, 'chair', before);
  assert.deepEqual(shown(two, 'chair'), [
    { width: '620', length: '1190' },
    { width: '650', length: '1190' },
  ]);
});

test('a tab that saves a form leaves out what another one types in it, which stays there and goes with that tab’s own', () => {
  const { open, tab } = setUp();
  const stored = { width: '', length: '' };
  const [one, two] = [tab(), tab()];
  two.of('v1');
  type(one, { width: '62', length: '' }, 'chair', stored);
  assert.deepEqual([...two.elsewhere('v1', 'chair')], ['["width"]']);
  type(two, { width: '62', length: '1190' }, 'chair', stored);
  const saved = withFieldsOf(two.of('v1').value['chair']?.value, stored, two.elsewhere('v1', 'chair'));
  assert.deepEqual(saved, { width: '', length: '1190' });
  two.saved('v1', 'chair', saved);
  two.flush();
  for (const each of [one, two, open()]) assert.deepEqual(shown(each, 'chair'), [{ width: '62', length: '1190' }]);
  // The writer goes on, and nobody asks which of the two counts.
  type(one, { width: '620', length: '1190' }, 'chair', stored);
  assert.deepEqual(shown(two, 'chair'), [{ width: '620', length: '1190' }]);
  one.saved('v1', 'chair', { width: '620', length: '1190' });
  one.flush();
  for (const each of [one, two, open()]) assert.deepEqual(shown(each, 'chair'), [undefined]);
});

test('a field that somebody goes on with here is this tab’s, and a draft from the disk is whole', () => {
  const { tab } = setUp();
  const stored = { width: '', length: '' };
  const [one, two] = [tab(), tab()];
  two.of('v1');
  type(one, { width: '62', length: '' }, 'chair', stored);
  type(two, { width: '625', length: '' }, 'chair', stored);
  assert.deepEqual([...two.elsewhere('v1', 'chair')], []);
  assert.deepEqual([...tab().elsewhere('v1', 'chair')], []);
});

test('what is counted is one count of all tabs: what was touched last stands', () => {
  const { open, tab } = setUp();
  const [one, two] = [tab(), tab()];
  two.of('v1');
  const count = (tabOf: typeof one, taps: number) => {
    tabOf.put('v1', 'count:x', { value: taps, before: null, title: 'A count', shared: true });
    tabOf.flush();
  };
  count(one, 1);
  count(two, 2);
  assert.deepEqual([shown(one, 'count:x'), shown(open(), 'count:x')], [[2], [2]]);
  two.put('v1', 'count:x', undefined);
  two.flush();
  assert.deepEqual(shown(one, 'count:x'), [undefined]);
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
