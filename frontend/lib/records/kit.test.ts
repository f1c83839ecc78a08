import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newId } from '../bytes';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, shown, startVisitOn, TEAM, withChecklist } from '../../test/tablet';
import { packKit } from './pack-kit';

const listed = (name: string, more: object = {}) => ({
  team: TEAM,
  name,
  class: 'small',
  start_gf: 15,
  operate_gf: 50,
  travel_mm: 10,
  power_jack: false,
  mode_jack: true,
  attendant: false,
  ...more,
});

test('the kit is live, by name, and a control that is gone is not in it', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const [grey, blue] = [newId(), newId()];
  await tablet.workspace.projections.write('control-listed', grey, listed('Grey stick', { sealing: 'IP54', mounts: ['tray'] }));
  await tablet.workspace.projections.write('control-listed', blue, listed('Blue stick'));
  await tablet.workspace.projections.settled();
  const names = () => tablet.workspace.projections.kit.value.map((one) => one.name);
  assert.deepEqual(names(), ['Blue stick', 'Grey stick']);
  assert.equal(tablet.workspace.projections.clients.value.length, 0, 'a control is no client');
  assert.deepEqual(tablet.workspace.projections.waitingClients(), []);
  await tablet.workspace.projections.write('control-listed', blue, listed('Blue stick', { gone: true }));
  await tablet.workspace.projections.settled();
  assert.deepEqual(names(), ['Grey stick']);
  const again = await openTablet(server, tablet);
  assert.deepEqual(
    again.workspace.projections.kit.value.map((one) => one.sealing),
    ['IP54'],
    'the kit is there after closing the browser',
  );
});

test('a visit packs the kit of its own team, and keeps it when the kit changes', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  const control = newId();
  await tablet.workspace.projections.write('control-listed', control, listed('Grey stick', { connector: 'round' }));
  await tablet.workspace.projections.write('control-listed', newId(), listed('Elsewhere', { team: 'team-b' }));
  await tablet.workspace.projections.settled();
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  await tablet.workspace.projections.write('kit-packed', visit, packKit(tablet.workspace.projections.kit.value, TEAM));
  await tablet.workspace.projections.write('control-listed', control, listed('Grey stick', { operate_gf: 90 }));
  const packed = (await tablet.workspace.store.held(visit)).events.find((one) => one.event.kind === 'kit-packed');
  assert.deepEqual(packed?.event.body, {
    controls: [
      {
        id: control,
        name: 'Grey stick',
        class: 'small',
        start_gf: 15,
        operate_gf: 50,
        travel_mm: 10,
        power_jack: false,
        mode_jack: true,
        attendant: false,
      },
    ],
  });
});

test('a colleague who rates the same trial does not see the first visit until both are signed', async () => {
  const server = createFakeServer(TEAM);
  const [first, second] = [await newTablet(server), await newTablet(server)];
  const client = await openClientOn(first);
  const rated = await startVisitOn(first, client);
  await answerOn(first, rated, 'pos-head', '3');
  await first.workspace.loop.now();
  await second.workspace.loop.now();
  const cardOf = (id: string) => second.workspace.projections.clients.value[0]?.visits.find((card) => card.id === id);
  assert.equal(cardOf(rated)?.blind, false, 'whoever does not rate it may read it');
  const own = await startVisitOn(second, client, { second_of: rated });
  assert.equal(cardOf(rated)?.blind, true);
  assert.deepEqual([cardOf(rated)?.level, cardOf(rated)?.answered], ['', 0]);
  assert.equal(cardOf(own)?.blind, false);
  const signed = { level: 'practise', result: 'ab'.repeat(32), name: 'Invented Signer' };
  await second.workspace.projections.write('visit-signed', own, signed);
  await second.workspace.projections.settled();
  assert.equal(cardOf(rated)?.blind, true, 'one signature is not enough');
  await first.workspace.projections.write('visit-signed', rated, signed);
  await first.workspace.loop.now();
  await second.workspace.loop.now();
  assert.equal(cardOf(rated)?.blind, false);
  assert.equal(cardOf(rated)?.answered, 1);
});

test('the view of a hidden visit holds nothing that was said', async () => {
  const server = createFakeServer(TEAM);
  const [first, second] = [await newTablet(server), await newTablet(server)];
  const client = await openClientOn(first);
  const rated = await startVisitOn(first, client);
  await answerOn(first, rated, 'pos-head', '3');
  await first.workspace.loop.now();
  await second.workspace.loop.now();
  await withChecklist(second);
  assert.equal((await shown(second, rated, (view) => view.result !== null)).visit.answers.length, 1);
  await startVisitOn(second, client, { second_of: rated });
  const hidden = await shown(second, rated, (view) => view.blind);
  assert.deepEqual([hidden.visit.answers, hidden.result], [[], null]);
  assert.equal(hidden.visit.started.by, first.person);
});
