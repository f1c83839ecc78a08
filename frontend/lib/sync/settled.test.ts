import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Http } from '../api/http';
import type { EncryptedStore } from '../database/encrypted-store';
import { StoreError } from '../errors';
import type { Outbox } from '../records/outbox';
import type { Refused } from '../records/types';
import { fetchSettled } from './settled';

type Settled = NonNullable<Refused['settled']>;

const refused = (n: number, settled?: Settled): Refused => ({
  ref: `tab-a:${n}`,
  kind: 'answer-given',
  subject: 'visit-a',
  at: '2026-03-02T10:00:00.000Z',
  code: 'unknown-item',
  hint: 'No such question.',
  field: 'body.item',
  ...(settled === undefined ? {} : { settled }),
});

const row = (n: number, more: object) => ({
  tablet: 'tab-a',
  n,
  settled: '',
  settled_by: '',
  note: '',
  placed: '',
  confirmed: false,
  ...more,
});

/** A tablet that holds these as set aside, and a server that answers page by page, or not at all. */
function tabletWith(list: readonly Refused[], pages: readonly object[] | StoreError) {
  let kept = list;
  const asked: string[] = [];
  const store = {
    secret: async () => kept,
    keepSecret: async (_: string, value: unknown) => {
      kept = value as readonly Refused[];
    },
  } as unknown as EncryptedStore;
  const outbox = { exclusive: (run: () => Promise<unknown>) => run() } as unknown as Outbox;
  const http = async ({ path }: Parameters<Http>[0]) => {
    asked.push(path);
    if (pages instanceof StoreError) throw pages;
    return { status: 200, json: pages[asked.length - 1] };
  };
  return { asked, kept: () => kept, fetch: () => fetchSettled({ store, outbox, http }) };
}

const settledAt = '2026-03-04T09:00:00.000Z';

test('what was dealt with says when, by whom and how, over all pages', async () => {
  const tablet = tabletWith(
    [refused(1), refused(2), refused(3), refused(4)],
    [
      { entries: [row(1, { settled: settledAt, settled_by: 'Lena', note: 'Typed anew.' })], next: '7', more: true },
      {
        entries: [
          row(2, { settled: settledAt, settled_by: 'Lena', note: 'It was so.', confirmed: true }),
          row(3, { placed: settledAt }),
          row(9, { settled: settledAt, settled_by: 'Lena' }),
        ],
        next: '8',
        more: false,
      },
    ],
  );
  assert.equal(await tablet.fetch(), true);
  assert.deepEqual(tablet.asked, ['/api/v1/quarantine?state=closed&after=0', '/api/v1/quarantine?state=closed&after=7']);
  assert.deepEqual(tablet.kept(), [
    refused(4),
    refused(1, { at: settledAt, by: 'Lena', note: 'Typed anew.' }),
    refused(2, { at: settledAt, by: 'Lena', note: 'Confirmed, and judged again as if it had just arrived. It was so.' }),
    refused(3, { at: settledAt, by: '', note: 'Taken in: the server could read it after all, and it counts from now on.' }),
  ]);
});

test('the list keeps what is open and the last hundred that were dealt with', async () => {
  const before = { at: settledAt, by: 'Lena', note: '' };
  const old = Array.from({ length: 100 }, (_, at) => refused(at + 1, before));
  const tablet = tabletWith(
    [...old, refused(101), refused(102)],
    [{ entries: [row(101, { settled: settledAt, settled_by: 'Lena' })], next: '1' }],
  );
  assert.equal(await tablet.fetch(), true);
  assert.deepEqual(tablet.kept(), [refused(102), ...old.slice(1), refused(101, before)]);
});

test('nothing is asked while nothing is open, and nothing changes where nothing was dealt with', async () => {
  const done = tabletWith([refused(1, { at: settledAt, by: 'Lena', note: '' })], []);
  assert.equal(await done.fetch(), false);
  assert.deepEqual(done.asked, []);
  const open = tabletWith([refused(1)], [{ entries: [], next: '0', more: false }]);
  assert.equal(await open.fetch(), false);
  assert.deepEqual(open.kept(), [refused(1)]);
});

test('an older server that does not know the question is no failure; any other refusal is one', async () => {
  assert.equal(await tabletWith([refused(1)], new StoreError('refused', 'No such page.')).fetch(), false);
  await assert.rejects(tabletWith([refused(1)], new StoreError('sign-in', 'Sign in again.')).fetch(), StoreError);
});
