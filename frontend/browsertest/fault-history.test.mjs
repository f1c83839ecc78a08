// @ts-check
// What three tabs of one tablet and a second client are told, while the network
// cuts, the clocks jump and the server is killed, must fit together.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { part, pass, useFaultyNetwork, visitId } from './fault.mjs';
import { itemCard, sendAll, setClock, thisTablet, tile, touch } from './actions.mjs';
import { password } from './setup.mjs';

const network = useFaultyNetwork();
const DAY = 86_400_000;

/** What cmd/history says of a history. @param {object[]} history @param {string} name */
async function judged(history, name) {
  const path = join(await network.profile(), `${name}.jsonl`);
  writeFileSync(path, history.map((one) => `${JSON.stringify(one)}\n`).join(''));
  const { status, stdout, stderr } = spawnSync('go', ['run', './cmd/history', path], {
    cwd: join(import.meta.dirname, '../..'),
    encoding: 'utf8',
  });
  return { status, said: stdout + stderr };
}

/** A second client, which pulls all of the team through the proxy. */
async function reader() {
  const signedIn = await fetch(`${network.proxy.url}/api/v1/session`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ name: 'marit', password }),
  });
  const headers = { 'x-client': 'reader', cookie: (signedIn.headers.get('set-cookie') ?? '').split(';')[0] ?? '' };
  let [after, log] = [0, ''];
  return async (/** @type {string} */ team) => {
    for (let more = true; more;) {
      const answer = await fetch(`${network.proxy.url}/api/v1/teams/${team}/events?log=${log}&after=${after}&limit=1000`, { headers });
      const page = await answer.json();
      assert.equal(answer.status, 200, JSON.stringify(page));
      ({ log, more, next: after } = page);
    }
  };
}

test('three tabs, kills, cuts and clocks: all clients see one history', async () => {
  network.proxy.history = [];
  const { page: one, context, problems } = await network.tablet();
  const tabs = [one, await context.newPage(), await context.newPage()];
  for (const tab of tabs) {
    await network.atVisit(tab);
    await tile(tab, part);
    await tab.locator('.item-card').first().waitFor();
  }
  const visit = visitId(one);
  const { team } = await network.visitOnServer(one, visit);
  const pullAll = await reader();
  await pullAll(team);
  const items = await one.evaluate(() =>
    [...document.querySelectorAll('.item-card')]
      .filter((card) => card.querySelector('input[value="1"]') && card.querySelector('input[value="4"]'))
      .map((card) => card.querySelector('h2, h3')?.textContent?.trim() ?? ''),
  );
  assert.ok(items.length > 1, 'the part has items with levels');

  // What the first push of each phase says reaches the server; its answer does not reach the tablet.
  let pushes = 0;
  const phases = ['4', '1', '3'];
  for (const [phase, level] of phases.entries()) {
    const before = pushes;
    network.proxy.rule = ({ path }) => {
      if (path === '/api/v1/events') pushes += 1;
      return { kind: path === '/api/v1/events' && pushes === before + 1 ? 'cut-after' : 'pass' };
    };
    await Promise.all(
      tabs.map(async (tab, at) => {
        await setClock(tab, [0, 3653 * DAY, -DAY][(phase + at) % 3] ?? 0);
        const title = items[(phase + at) % items.length] ?? '';
        await touch(tab, title, level);
        await itemCard(tab, title).locator(`input[value="${level}"]:checked`).waitFor();
      }),
    );
    if (phase === 1) {
      await network.server.stop('SIGKILL');
      await network.again();
    }
    await sendAll(one);
    await pullAll(team);
    await one.goBack();
  }
  network.proxy.rule = pass;
  for (const tab of tabs) {
    await thisTablet(tab);
    await tab.getByText('0 entries', { exact: true }).waitFor();
  }
  await pullAll(team);
  const history = network.proxy.history;
  network.proxy.history = undefined;
  const { status, said } = await judged(history, 'seen');
  assert.equal(status, 0, said);
  assert.ok(Number(/(\d+) pushes/.exec(said)?.[1]) >= phases.length && pushes > phases.length, said);

  // The judge is awake: the last page without its last event is noticed.
  const pages = /** @type {any[]} */ (history);
  const last = pages.findLast((each) => each.client === 'reader' && JSON.parse(each.answer).events.length > 0);
  const { events, ...rest } = JSON.parse(last.answer);
  const planted = pages.map((each) =>
    each === last ? { ...last, sum: '', answer: JSON.stringify({ ...rest, events: events.slice(0, -1) }) } : each,
  );
  const noticed = await judged(planted, 'planted');
  assert.equal(noticed.status, 1);
  assert.match(noticed.said, /^skipped: /m);
  assert.deepEqual(problems, []);
  await context.close();
});
