import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM } from '../../test/tablet';

const names = (tablet: Awaited<ReturnType<typeof newTablet>>) =>
  Object.fromEntries([...tablet.workspace.people.colleagues.value].map(([id, one]) => [id, one.name]));

test('names of colleagues are on the tablet after a restart without a network', async () => {
  const server = createFakeServer(TEAM);
  server.people.push({ id: 'p-ben', name: 'Ben Invented', credential: 'PT' });
  const tablet = await newTablet(server);
  assert.deepEqual(names(tablet), {});
  await tablet.workspace.loop.now();
  tablet.workspace.close();
  server.faults.push('lose-request', 'lose-request');
  const again = await openTablet(server, tablet);
  assert.deepEqual(names(again), { 'p-ben': 'Ben Invented' });
  assert.equal(again.workspace.people.colleagues.value.get('p-ben')?.credential, 'PT');
});

test('no name lies open in the rows', async () => {
  const server = createFakeServer(TEAM);
  server.people.push({ id: 'p-ben', name: 'Ben Invented', credential: 'PT' });
  const tablet = await newTablet(server);
  await tablet.workspace.loop.now();
  const rows = await tablet.workspace.store.db.read(['meta'], (tx) => tx.objectStore('meta').getAll());
  assert.ok(rows.some((row) => row.key === 'people'));
  assert.equal(
    rows.some((row) => JSON.stringify({ ...row, box: Buffer.from(row.box ?? []).toString('latin1') }).includes('Invented')),
    false,
  );
});

test('names are asked for again when entries came in, and who left keeps theirs', async () => {
  const server = createFakeServer(TEAM);
  server.people.push({ id: 'p-ben', name: 'Ben Invented', credential: '' });
  const tablet = await newTablet(server);
  await tablet.workspace.loop.now();
  server.people.splice(0, 1, { id: 'p-cem', name: 'Cem Invented', credential: '' });
  await tablet.workspace.loop.now();
  assert.deepEqual(names(tablet), { 'p-ben': 'Ben Invented' }, 'nothing came in, nothing was asked');
  await openClientOn(tablet);
  await tablet.workspace.loop.now();
  assert.deepEqual(names(tablet), { 'p-ben': 'Ben Invented', 'p-cem': 'Cem Invented' });
  assert.deepEqual(tablet.workspace.people.colleagues.value.get('p-ben')?.teams, []);
});

test('an entry that a lead has dealt with is told to the tablet that sent it, with the note', async () => {
  const server = createFakeServer(TEAM);
  server.judge = ({ kind }) => (kind === 'answer-given' ? 'out-of-range' : '');
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  const ref = await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  assert.deepEqual(
    tablet.workspace.state.value.refused.map((one) => one.ref),
    [ref],
  );
  assert.equal(tablet.workspace.state.value.dealtWith.length, 0);
  server.settled.set(ref, { settled: '2026-03-03T08:00:00.000Z', settled_by: 'p-lead', note: 'Entered again on paper.' });
  await tablet.workspace.loop.now();
  assert.deepEqual(tablet.workspace.state.value.refused, []);
  const settled = { at: '2026-03-03T08:00:00.000Z', by: 'p-lead', note: 'Entered again on paper.' };
  assert.deepEqual(
    tablet.workspace.state.value.dealtWith.map((one) => [one.ref, one.settled]),
    [[ref, settled]],
  );
  const again = await openTablet(server, tablet);
  assert.deepEqual(
    again.workspace.state.value.dealtWith.map((one) => one.settled),
    [settled],
  );
});

test('what became of many entries comes in pages, also of those that the server could take in after all', async () => {
  const server = createFakeServer(TEAM);
  server.judge = ({ kind }) => (kind === 'answer-given' ? 'other-checklist' : '');
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  const refs = [];
  for (const level of ['3', '2', '1']) refs.push(await answerOn(tablet, visit, 'pos-head', level));
  await tablet.workspace.loop.now();
  const [first, second, third] = refs as [string, string, string];
  server.pageOfSettled = 1;
  server.settled.set('another-tablet:7', { settled: '2026-03-03T08:00:00.000Z', settled_by: 'p-lead', note: 'Not from here.' });
  server.settled.set(first, { settled: '2026-03-03T08:00:00.000Z', settled_by: 'p-lead', note: 'Entered again.' });
  server.settled.set(third, { placed: '2026-03-04T08:00:00.000Z' });
  await tablet.workspace.loop.now();
  assert.deepEqual(
    tablet.workspace.state.value.refused.map((one) => one.ref),
    [second],
  );
  assert.deepEqual(
    tablet.workspace.state.value.dealtWith.map((one) => [one.ref, one.settled?.at, one.settled?.by]),
    [
      [third, '2026-03-04T08:00:00.000Z', ''],
      [first, '2026-03-03T08:00:00.000Z', 'p-lead'],
    ],
  );
});

test('that an entry was confirmed is said, with the reason where there is one', async () => {
  const server = createFakeServer(TEAM);
  server.judge = ({ kind }) => (kind === 'answer-given' ? 'unsigned' : '');
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  const [mine, leads] = [await answerOn(tablet, visit, 'pos-head', '3'), await answerOn(tablet, visit, 'pos-head', '2')];
  await tablet.workspace.loop.now();
  const at = '2026-03-03T08:00:00.000Z';
  server.settled.set(mine, { settled: at, settled_by: tablet.person, note: '', confirmed: true });
  server.settled.set(leads, { settled: at, settled_by: 'p-lead', note: 'She told me.', confirmed: true });
  await tablet.workspace.loop.now();
  const confirmed = 'Confirmed, and judged again as if it had just arrived.';
  assert.deepEqual(
    new Map(tablet.workspace.state.value.dealtWith.map((one) => [one.ref, one.settled?.note])),
    new Map([
      [mine, confirmed],
      [leads, `${confirmed} She told me.`],
    ]),
  );
});

test('the same verdict again does not open what was dealt with', async () => {
  const server = createFakeServer(TEAM);
  server.judge = ({ kind }) => (kind === 'answer-given' ? 'out-of-range' : '');
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  const ref = await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  server.settled.set(ref, { settled: '2026-03-03T08:00:00.000Z', settled_by: 'p-lead', note: 'Done.' });
  await tablet.workspace.loop.now();
  server.lines.delete(ref);
  await tablet.workspace.store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'ack', number: 2 }));
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.refused.length, 0);
  assert.equal(tablet.workspace.state.value.dealtWith.length, 1);
});

test('with nothing set aside nobody is asked about it', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  await openClientOn(tablet);
  await tablet.workspace.loop.now();
  assert.equal(
    server.requests.some((one) => one.includes('quarantine')),
    false,
  );
});
