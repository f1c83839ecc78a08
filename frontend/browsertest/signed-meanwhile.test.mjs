// @ts-check
// A visit that one tablet signs while another is typing in it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { useFaultyNetwork, visitId } from './fault.mjs';
import { follow, sendAll, sign, staysInField, tile } from './actions.mjs';

const network = useFaultyNetwork();

test('what is half typed while another tablet signs is kept in sight, and can be added as an amendment', async () => {
  const { page: one, context, problems } = await network.tablet();
  const { page: two, context: other, problems: otherProblems } = await network.tablet();
  await network.atVisit(one);
  await network.atVisit(two);
  const visit = visitId(one);
  await tile(one, 'Visit notes');
  const risks = one.getByRole('textbox', { name: 'Risks talked through' });
  await risks.fill('edge of the terrace');
  await one.getByText('kept on this tablet as typed').waitFor();
  await staysInField(one);

  // What runs is not hidden behind a signature: it is ended or thrown away first.
  await tile(two, 'Driving trial');
  await two.getByRole('button', { name: 'Start the clock' }).click();
  await follow(two, 'Visit map');
  await tile(two, 'Sign the visit');
  const run = two.locator('.banner', { hasText: 'A run of the driving trial' });
  await run.getByText('the clock runs').waitFor();
  await two.getByRole('button', { name: 'Sign this visit' }).click();
  await two.locator('.banner', { hasText: 'Not signed' }).waitFor();
  await run.getByRole('button', { name: 'Throw away: A run of the driving trial' }).click();
  await run.waitFor({ state: 'detached' });
  await sign(two);
  await sendAll(two);

  // The field goes while somebody stands in it; what was in it is no entry that comes after signing.
  await one.evaluate(() => window.dispatchEvent(new Event('online')));
  const unsaved = one.locator('.banner', { hasText: 'Typed before it was signed, and not saved' });
  await unsaved.getByText('edge of the terrace').waitFor();
  await follow(one, 'Visit map');
  await unsaved.getByText('edge of the terrace').waitFor();
  await sendAll(one);
  const set = await one.request.get(`${network.server.url}/api/v1/quarantine?after=0&state=open`);
  assert.deepEqual(
    (await set.json()).entries.filter((/** @type {any} */ each) => each.subject === visit && each.code === 'signed'),
    [],
    'nothing is set aside since it came after signing',
  );
  await one.goBack();
  await unsaved.getByRole('link', { name: 'Risks talked through' }).click();
  await one.getByRole('button', { name: 'Amend…' }).click();
  await one.getByLabel('Why does it change?').fill('was being typed');
  await one.getByRole('button', { name: 'Amend', exact: true }).click();
  assert.equal(await risks.inputValue(), 'edge of the terrace');
  await one.getByText('kept on this tablet as typed').waitFor();
  assert.deepEqual([...problems, ...otherProblems], []);
  await context.close();
  await other.close();
});
