import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError } from '../errors';
import type { Browser } from './browser';
import { createOpenSession } from './open-session';
import type { PinResume } from './pin-resume';
import type { SignedIn } from './session';

/** Somebody whose rows are open, and whether they still are. */
function signedIn(idle: Promise<unknown> = Promise.resolve(5), written: Promise<void> = Promise.resolve()) {
  const state = { closed: false };
  const done = {
    who: {},
    session: { online: true },
    workspace: {
      store: { secret: () => idle },
      sealSigned: () => Promise.resolve(),
      loop: { wake: () => undefined },
      close: () => {
        state.closed = true;
        return written;
      },
    },
  };
  return { done: done as unknown as SignedIn, state };
}

function setUp() {
  const browser = { engine: { stop: () => undefined } } as unknown as Browser;
  const pins = { end: () => undefined } as unknown as PinResume;
  return createOpenSession(
    () => browser,
    () => Promise.reject(new Error('nothing to load')),
    pins,
  );
}

const locked = (error: unknown) => error instanceof StoreError && error.code === 'locked';

test('whoever is locked out while they come in is not signed in, and their rows are closed', async () => {
  const open = setUp();
  const { done, state } = signedIn();
  const entering = open.enter(done, 'ann');
  open.leave(true);
  await assert.rejects(entering, locked);
  assert.deepEqual([open.workspace.value, open.session.value, open.current(), state.closed], [null, null, null, true]);
  const next = signedIn();
  await open.enter(next.done, 'ann');
  assert.deepEqual([open.workspace.value, open.current()?.login, next.state.closed], [next.done.workspace, 'ann', false]);
});

test('of two who come in at once the later one is signed in, and the other’s rows are closed', async () => {
  const open = setUp();
  const [ann, ben] = [signedIn(), signedIn()];
  const first = open.enter(ann.done, 'ann');
  await Promise.all([assert.rejects(first, locked), open.enter(ben.done, 'ben')]);
  assert.deepEqual([open.workspace.value, ann.state.closed, ben.state.closed], [ben.done.workspace, true, false]);
  await open.enter(signedIn().done, 'eve');
  assert.equal(ben.state.closed, true);
});

test('whose rows cannot be read is not signed in', async () => {
  const open = setUp();
  const { done, state } = signedIn(Promise.reject(new StoreError('lost', 'The browser closed the records.')));
  await assert.rejects(open.enter(done, 'ann'), /closed the records/);
  assert.deepEqual([open.workspace.value, state.closed], [null, true]);
});

test('a locked tablet says that it still writes until the last of it is on the disk', async () => {
  const open = setUp();
  let done: () => void = () => undefined;
  const first = signedIn(
    undefined,
    new Promise((resolve) => {
      done = resolve;
    }),
  );
  await open.enter(first.done, 'ann');
  assert.equal(open.closing.value, false);
  open.leave(true);
  // Nobody is shown a screen that is neither.
  assert.deepEqual([open.session.value, open.closing.value], [null, true]);
  done();
  await open.closed();
  await Promise.resolve();
  assert.equal(open.closing.value, false);
});

test('a write that the browser refuses does not keep anybody out', async () => {
  const open = setUp();
  await open.enter(signedIn(undefined, Promise.reject(new StoreError('full', 'No room.'))).done, 'ann');
  open.leave(true);
  await open.closed();
  await Promise.resolve();
  assert.equal(open.closing.value, false);
});
