import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answerVault, createPinVault, MOST_TRIES, RESUME_MS, type Pin } from './pin-vault';

const pin: Pin = { salt: new Uint8Array(16), want: new Uint8Array(32) };

function setUp() {
  const at = { now: 1_000_000_000_000 };
  const vault = createPinVault<string>(
    () => at.now,
    (_, typed) => Promise.resolve(typed === '204060'),
  );
  return { at, vault };
}

test('the right PIN gets the keys once, and nothing is held after that', async () => {
  const { vault } = setUp();
  vault.keep(pin, 'keys');
  assert.deepEqual(await vault.open('204060'), { kind: 'opened', what: 'keys' });
  assert.deepEqual(await vault.open('204060'), { kind: 'gone' });
});

test('five wrong PINs, and the right one opens nothing any more', async () => {
  const { vault } = setUp();
  vault.keep(pin, 'keys');
  for (let left = MOST_TRIES - 1; left >= 0; left--) assert.deepEqual(await vault.open('1'), { kind: 'wrong', left });
  assert.deepEqual(await vault.open('204060'), { kind: 'gone' });
});

test('guesses that come all at once are counted like others', async () => {
  const { vault } = setUp();
  vault.keep(pin, 'keys');
  const guesses = [...Array.from({ length: 50 }, (_, n) => String(n)), '204060'];
  const answers = await Promise.all(guesses.map((one) => vault.open(one)));
  assert.equal(answers.filter((one) => one.kind === 'wrong').length, MOST_TRIES);
  assert.equal(answers.filter((one) => one.kind === 'opened').length, 0);
});

test('tries in the page and in the worker are one count', async () => {
  const { vault } = setUp();
  vault.keep(pin, 'keys');
  vault.spend(1);
  assert.deepEqual(await vault.open('1'), { kind: 'wrong', left: 0 });
  assert.equal(vault.holds(), false);
});

test('two hours after the lock nothing is held, whatever the clock does', async () => {
  const { at, vault } = setUp();
  vault.keep(pin, 'keys');
  at.now += 60_000;
  vault.lock();
  at.now += RESUME_MS;
  assert.equal(vault.holds(), true);
  at.now += 1;
  assert.deepEqual(await vault.open('204060'), { kind: 'gone' });
  vault.keep(pin, 'keys');
  at.now -= 86_400_000;
  assert.deepEqual(await vault.open('204060'), { kind: 'gone' }, 'a clock that was set back makes nothing last');
});

test('the worker tells that it holds keys, and gives them to nobody without the PIN', async () => {
  const { vault } = setUp();
  await answerVault(vault, { vault: 'keep', pin, what: 'keys' });
  const told = [];
  for (const ask of ['holds', 'alive', 'lock', 'holds'] as const) told.push(await answerVault(vault, { vault: ask }));
  assert.doesNotMatch(JSON.stringify(told), /keys/);
  assert.deepEqual(told[0], { kind: 'holds', holds: true });
  await answerVault(vault, { vault: 'drop' });
  assert.deepEqual(await answerVault(vault, { vault: 'open', typed: '204060' }), { kind: 'gone' });
});
