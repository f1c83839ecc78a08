import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Counts, Page, Row } from '../../lib/model.gen';
import { createPages } from './pages';
import { PAGE, START, type CaseloadRequest } from './query';

const COUNTS: Counts = {
  open: 250,
  unassigned: 0,
  stops: 0,
  rechecks: 0,
  choices: 0,
  quarantined: 0,
  set_aside: 0,
  on_tablet: 0,
  status: {},
  levels: {},
};

function pageOf({ path, search }: CaseloadRequest, total: number): Page {
  const params = new URL(path, 'http://x').searchParams;
  const offset = Number(params.get('offset'));
  const count = Math.max(0, Math.min(PAGE, total - offset));
  const rows = Array.from({ length: count }, (_, i) => ({ client: `${search?.q ?? ''}${offset + i}` }) as Row);
  return { total, offset, rows, counts: COUNTS };
}

const settled = (): Promise<void> => new Promise((done) => setImmediate(done));

test('only pages in sight are fetched, each once', async () => {
  const paths: string[] = [];
  const pages = createPages({
    team: 't',
    get: async (request) => {
      paths.push(request.path);
      return pageOf(request, 250);
    },
  });
  pages.ask(START);
  await settled();
  pages.want(150, 240);
  pages.want(150, 240);
  await settled();
  assert.deepEqual(
    paths.map((path) => new URL(path, 'http://x').searchParams.get('offset')),
    ['0', '100', '200'],
  );
  assert.equal(pages.state.value.rows.get(249)?.client, '249');
  assert.equal(pages.state.value.total, 250);
});

test('an answer to an older question is dropped', async () => {
  const waiting: (() => void)[] = [];
  const pages = createPages({ team: 't', get: (request) => new Promise((done) => waiting.push(() => done(pageOf(request, 3)))) });
  pages.ask({ ...START, q: 'old' });
  pages.ask({ ...START, q: 'new' });
  waiting[1]?.();
  await settled();
  waiting[0]?.();
  await settled();
  assert.equal(pages.state.value.rows.get(0)?.client, 'new0');
});

test('a page that failed says why and is asked for again', async () => {
  let fail = true;
  const pages = createPages({
    team: 't',
    get: async (request) => {
      if (fail) throw new Error('No network.');
      return pageOf(request, 3);
    },
  });
  pages.ask(START);
  await settled();
  assert.equal(pages.state.value.error, 'No network.');
  fail = false;
  pages.refresh();
  await settled();
  assert.equal(pages.state.value.error, '');
  assert.equal(pages.state.value.rows.size, 3);
});
