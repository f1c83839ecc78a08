// @ts-check
// An organisation with a sign-in of its own: a real OpenID provider in a process
// of its own, and a server that sends people there.
import { execFile, spawn } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { promisify } from 'node:util';
import { binary, remove, scratch, startServer } from './setup.mjs';

const run = promisify(execFile);
const root = join(import.meta.dirname, '..', '..');

/** Everybody's password at the organisation. */
const password = 'the organisation’s own';

/**
 * Stops the demo and serves its records again, now with the organisation's sign-in,
 * where Marit is known by her e-mail address, and with a place for backups.
 * @param {Awaited<ReturnType<typeof startServer>>} demo
 */
export async function joinOrganisation(demo) {
  const folder = await scratch('organisation');
  const program = join(folder, 'organisation');
  await run('go', ['build', '-o', program, './server/provider/testdata/organisation'], { cwd: root });
  await demo.stop();
  // Another site than the provider's, as it is in life: cookies then know a difference.
  const url = demo.url.replace('127.0.0.1', 'localhost');
  const secretFile = join(folder, 'secret');
  await writeFile(secretFile, 'a secret of both');
  await run(binary, ['account', 'identity', '--data', demo.data, '--login', 'marit', '--email', 'marit@clinic.example']);
  const backups = join(folder, 'backups');
  const key = /age1\w+/.exec((await run(binary, ['backup', '--new-key', join(folder, 'backup.key')])).stdout)?.[0] ?? '';
  const provider = spawn(program, ['-back', `${url}/api/v1/oidc/return`, '-secret', 'a secret of both', '-password', password], {
    stdio: ['pipe', 'pipe', 'ignore'],
  });
  let issuer = '';
  for await (const line of createInterface({ input: provider.stdout })) {
    issuer = /^issuer (.+)$/.exec(line)?.[1] ?? '';
    if (issuer !== '') break;
  }
  const server = await startServer({
    data: demo.data,
    addr: new URL(demo.url).host,
    serve: [
      '--oidc-issuer',
      issuer,
      '--oidc-client-id',
      'doorsill',
      '--oidc-secret-file',
      secretFile,
      '--public-url',
      url,
      '--backup-dir',
      backups,
      '--for',
      key,
    ],
  });
  const stop = async () => {
    provider.stdin.end();
    await new Promise((resolve) => {
      provider.once('exit', resolve);
    });
    await remove(folder);
  };
  return { url, server, issuer, stop };
}

/**
 * Goes to the organisation's sign-in and comes back.
 * @param {import('playwright-core').Page} page @param {string} url @param {string} name
 */
export async function signInThere(page, url, name) {
  await page.goto(url);
  await page.getByRole('button', { name: 'Sign in at your organisation' }).click();
  await page.locator('#username').fill(name);
  await page.locator('#password').fill(password);
  await page.locator('#password').press('Enter');
  await page.waitForURL(`${url}/**`);
}
