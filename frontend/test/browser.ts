/** A browser for tests: a key store and rows of its own, and a server with accounts and tablets in front of the fake log. */
import 'fake-indexeddb/auto';
import { createHttp, type Http } from '../lib/api/http';
import { newId } from '../lib/bytes';
import { createDeriver } from '../lib/crypto/derive';
import { createDatabase, type Database } from '../lib/database/database';
import { keyDatabasePlan, type KeySchema } from '../lib/database/rows';
import { createKeyStore, type KeyStore } from '../lib/session/key-store';
import { signInWith, type SessionDeps, type SignInAsk, type SignedIn } from '../lib/session/session';
import { openWorkspace, sendRows } from '../lib/session/workspace';
import { createFakeServer, type FakeServer } from './fake-server';
import { fakeWorld, TEAM, type FakeTablet } from './tablet';

export interface Account {
  password: string;
  readonly person: string;
  /** In no team yet, or not any more. */
  teamless?: boolean;
}

const json = (status: number, body: unknown) =>
  new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });

export interface FakeBrowser {
  readonly server: FakeServer;
  /** Turn the network off and on; `at` is the tablet's clock in ms. With `tooMany` signing in is refused for a while. */
  readonly net: { down: boolean; at: number; tooMany: boolean };
  /** Who has come by the organisation's sign-in: a login, or nobody. */
  readonly provider: { who: string };
  /** Bodies that were sent to the server. */
  readonly sent: string[];
  /** Tablets that the server knows. */
  readonly tablets: Set<string>;
  readonly deps: SessionDeps;
  readonly keyStore: KeyStore;
  readonly db: Database<KeySchema>;
  readonly signIn: (login: string, password: string, more?: Partial<SignInAsk>) => Promise<SignedIn>;
  /** The same disk after the browser was closed. */
  readonly again: () => FakeBrowser;
}

export interface FakeBrowserOptions {
  readonly server?: FakeServer;
  /** Replaces a person's rows' database, to make it fail. */
  readonly openWorkspace?: SessionDeps['openWorkspace'];
  /** The organisation's public key in the session answer. */
  readonly organisation?: { readonly id: string; readonly key: string };
}

export function newBrowser(
  accounts: Readonly<Record<string, Account>>,
  options: FakeBrowserOptions = {},
  name = `keepers-${newId()}`,
  tablets = new Set<string>(),
): FakeBrowser {
  const server = options.server ?? createFakeServer(TEAM);
  const net = { down: false, at: Date.parse('2026-03-02T10:00:00.000Z'), tooMany: false };
  const provider = { who: '' };
  const sent: string[] = [];
  const sessionOf = (login: string, account: Account, more: object) => {
    const person = { id: account.person, name: `Name of ${login}`, credential: 'OT' };
    return json(200, {
      person,
      login,
      teams: account.teamless ? [] : [{ id: TEAM, name: 'North', role: 'clinician' }],
      admin: false,
      log: server.log,
      expires: '',
      organisation: options.organisation,
      ...more,
    });
  };
  const fetcher: typeof fetch = async (input, init) => {
    if (net.down) throw new TypeError('network down');
    const path = String(input);
    if (typeof init?.body === 'string') sent.push(init.body);
    if (init?.body instanceof Uint8Array) sent.push(new TextDecoder().decode(init.body));
    if (path === '/api/v1/session' && init?.method === 'GET') {
      const account = accounts[provider.who];
      return account === undefined
        ? json(401, { error: 'signed-out', message: 'Please sign in.' })
        : sessionOf(provider.who, account, { unlock: 'password-needed' });
    }
    if (net.tooMany && path === '/api/v1/session') return json(429, { error: 'too-many', message: 'Please wait 29 seconds.' });
    const body = (typeof init?.body === 'string' ? JSON.parse(init.body) : {}) as {
      name?: string;
      password?: string;
      tablet?: string;
      id?: string;
    };
    if (path === '/api/v1/session') {
      const account = accounts[(body.name ?? '').toLowerCase()];
      if (account === undefined || account.password !== body.password)
        return json(401, { error: 'wrong-password', message: 'The login or the password is wrong.' });
      const tablet = tablets.has(body.tablet ?? '') ? body.tablet : '';
      return sessionOf(body.name ?? '', account, { tablet });
    }
    if (path === '/api/v1/tablets') {
      const id = body.id ?? `tab-${newId()}`;
      tablets.add(id);
      return json(201, { id });
    }
    return server.fetch(input, init);
  };
  const http: Http = createHttp(fetcher);
  const world = { ...fakeWorld(server), http };
  const db = createDatabase({ ...keyDatabasePlan, name }, world.notices());
  const keyStore = createKeyStore({ db, deriver: createDeriver(() => Promise.reject(new Error('no worker here'))), now: () => net.at });
  const deps: SessionDeps = {
    http,
    keyStore,
    label: () => 'Tablet',
    openWorkspace: options.openWorkspace ?? ((who) => openWorkspace(world, who)),
    sendRows: (who) => sendRows(world, who),
  };
  return {
    server,
    net,
    provider,
    sent,
    tablets,
    deps,
    keyStore,
    db,
    signIn: (login, password, more = {}) => signInWith(deps, { login, password, ...more }),
    again: () => newBrowser(accounts, { ...options, server }, name, tablets),
  };
}

export function on(signed: SignedIn): FakeTablet {
  return {
    workspace: signed.workspace,
    tablet: signed.session.tablet,
    person: signed.session.person.id,
    key: signed.who.key,
    setKeys: signed.who.setKeys,
  } as FakeTablet;
}

export const twoPeople = (): Record<'ann' | 'ben', Account> => ({
  ann: { password: 'over the sill', person: `p-${newId()}` },
  ben: { password: 'under the lintel', person: `p-${newId()}` },
});
