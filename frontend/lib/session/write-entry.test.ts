import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError } from '../errors';
import type { Session } from '../records/types';
import { writeEntry, type WriteEntryDeps } from './write-entry';

type Open = NonNullable<ReturnType<WriteEntryDeps['open']>>;

/** Somebody who is signed in, and what was written for them. */
function signedIn(tablet = 'tab-a') {
  const written: string[] = [];
  const open = {
    workspace: {
      projections: {
        write: (kind: string) => {
          written.push(kind);
          return Promise.resolve(`${tablet}:1`);
        },
      },
      sealSigned: () => Promise.resolve(),
    },
    session: { tablet } as Session,
  };
  return { open: open as unknown as Open, written };
}

/** A tablet whose program answers when the test says so. */
function setUp(first: Open) {
  const at: { open: Open | null; wrote: number } = { open: first, wrote: 0 };
  let answer: (nothing: null) => void = () => undefined;
  const engine = { ask: () => new Promise((resolve) => (answer = resolve)) } as unknown as WriteEntryDeps['engine'];
  const deps: WriteEntryDeps = {
    engine,
    open: () => at.open,
    wrote: () => {
      at.wrote += 1;
    },
  };
  return {
    at,
    write: (kind: 'needs-noted' | 'answer-given') => writeEntry(deps, kind, 'v1', {}),
    answer: () => {
      answer(null);
    },
  };
}

const locked = (error: unknown) => error instanceof StoreError && error.code === 'locked';

test('an entry of a form is written for whoever made it, once the program has nothing against it', async () => {
  const ann = signedIn();
  const { at, write, answer } = setUp(ann.open);
  const writing = write('needs-noted');
  assert.deepEqual(ann.written, []);
  answer();
  assert.equal(await writing, 'tab-a:1');
  assert.deepEqual([ann.written, at.wrote], [['needs-noted'], 1]);
  assert.equal(await write('answer-given'), 'tab-a:1', 'a touch does not wait');
});

test('an entry that is being checked when the person changes goes into nobody’s log', async () => {
  for (const next of [null, signedIn('tab-b')]) {
    const ann = signedIn();
    const { at, write, answer } = setUp(ann.open);
    const writing = write('needs-noted');
    at.open = next?.open ?? null;
    answer();
    await assert.rejects(writing, locked);
    assert.deepEqual([ann.written, next?.written ?? [], at.wrote], [[], [], 0]);
  }
});

test('while nobody is signed in nothing is even checked, and without a team nothing is written', async () => {
  const { at, write } = setUp(signedIn('').open);
  await assert.rejects(write('needs-noted'), (error) => error instanceof StoreError && error.code === 'refused');
  at.open = null;
  await assert.rejects(write('needs-noted'), locked);
});
