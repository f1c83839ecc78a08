import assert from 'node:assert/strict';
import { mock, test } from 'node:test';
import { judge, suggestionIn, type Judge, type Judged } from './judge';
import { saying } from './result/sample';
import { createGate } from './saved';

const chin = { what: 'force', site: 'chin', unit: 'gf' };

/** Asks above 2000, refuses above 10000, as for a chin. */
const engine: Judge = {
  plausible: async ({ value }) => {
    if (value > 10_000) return { verdict: 'refuse', message: saying('The limit is 10000 gf.') };
    return value > 2_000 ? { verdict: 'ask', message: saying('Very high.') } : { verdict: 'ok' };
  },
  convert: async (values, from, to) => values.map((value) => (from === to ? value : value / 102)),
};

test('4200 at a chin is asked about, and 420 is offered', async () => {
  assert.deepEqual(await judge(chin, 4200, engine), { kind: 'ask', asked: { value: 4200, sentence: 'Very high.', suggestion: 420 } });
});

test('a usual value passes, an impossible one is refused with the reason', async () => {
  assert.deepEqual(await judge(chin, 420, engine), { kind: 'ok' });
  assert.deepEqual(await judge(chin, 42_000, engine), { kind: 'refuse', sentence: 'The limit is 10000 gf.' });
});

test('without an engine the value passes: care does not wait', async () => {
  assert.deepEqual(await judge(chin, 4200, { ...engine, plausible: () => Promise.reject(new Error('no engine')) }), { kind: 'ok' });
});

test('a tap waits a second for a slow engine, and no longer', async () => {
  mock.timers.enable({ apis: ['setTimeout'] });
  let judged: Judged | undefined;
  const done = judge(chin, 42_000, { ...engine, plausible: () => new Promise(() => undefined) }).then((one) => (judged = one));
  mock.timers.tick(999);
  await Promise.resolve();
  assert.equal(judged, undefined);
  mock.timers.tick(1);
  await done;
  mock.timers.reset();
  assert.deepEqual(judged, { kind: 'ok' });
});

test('a second press while a value is being judged begins nothing', async () => {
  const gate = createGate();
  const saved: string[] = [];
  let answered = () => {};
  const slow = new Promise<void>((resolve) => (answered = resolve));
  const press = (value: string) =>
    gate(async () => {
      await slow;
      saved.push(value);
    });
  const both = [press('420'), press('420')];
  answered();
  await Promise.all(both);
  assert.deepEqual(saved, ['420']);
  await press('430');
  await assert.rejects(gate(() => Promise.reject(new Error('no'))));
  await press('440');
  assert.deepEqual(saved, ['420', '430', '440'], 'the next value is taken');
});

test('a suggestion in another unit is turned into the unit of the visit', async () => {
  assert.equal(await suggestionIn({ verdict: 'ask', suggestion: 153, suggestion_unit: 'gf' }, 'gf', engine.convert), 153);
  assert.equal(await suggestionIn({ verdict: 'ask', suggestion: 102, suggestion_unit: 'gf' }, 'N', engine.convert), 1);
  assert.equal(await suggestionIn({ verdict: 'ask', suggestion: 120, suggestion_unit: 's' }, 'gf', engine.convert), null);
  assert.equal(await suggestionIn({ verdict: 'ask' }, 'gf', engine.convert), null);
});

test('a suggestion has the digits of the unit that it is shown in', async () => {
  const suggested = { verdict: 'ask', suggestion: 150, suggestion_unit: 'gf', message: saying('Very high.') } as const;
  assert.equal(await suggestionIn(suggested, 'N', engine.convert), 1.471);
  assert.equal(await suggestionIn({ ...suggested, suggestion: 2.4, suggestion_unit: 'N' }, 'gf', async () => [244.73]), 244.7);
});
