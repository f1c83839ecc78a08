/** A tablet for tests: the real store on an IndexedDB in memory, with a fake server and the real program. */
import 'fake-indexeddb/auto';
import { createHttp } from '../lib/api/http';
import { newId, randomBytes } from '../lib/bytes';
import { openRing, type KeyRing } from '../lib/crypto/key-ring';
import { createLocks } from '../lib/database/locks';
import type { Role, VisitView } from '../lib/records/types';
import { openPersonRows, type PersonRows } from '../lib/session/person-rows';
import { openWorkspace, type Workspace, type World } from '../lib/session/workspace';
import { createTestEngine, standardChecklist, type TestEngine } from './engine';
import type { FakeServer } from './fake-server';

export const TEAM = 'team-a';

const checklist = { id: 'standard', version: '2026.1', hash: 'ab'.repeat(32) };

export interface FakeTablet extends Pick<KeyRing, 'setKeys'> {
  readonly workspace: Workspace;
  readonly person: string;
  readonly tablet: string;
  readonly key: CryptoKey;
  readonly world: World & { readonly engine: TestEngine };
  /** How far its clock is off. */
  readonly ahead: { ms: number };
}

/** `ahead` is how far the tablet's clock is off, in ms. */
export function fakeWorld(server: FakeServer, ahead = { ms: 0 }): World & { readonly engine: TestEngine } {
  return {
    http: createHttp(server.fetch),
    engine: createTestEngine(),
    locks: createLocks(undefined),
    now: () => new Date(server.now + ahead.ms),
    zone: () => 'Europe/Dublin',
    random: () => 0.5,
    visible: () => false,
    setTimer: () => null,
    clearTimer: () => undefined,
    channel: () => null,
    notices: () => () => undefined,
    lockedElsewhere: () => undefined,
  };
}

export async function newTablet(server: FakeServer, role: Role = 'clinician'): Promise<FakeTablet> {
  const person = `person-${newId()}`;
  const ring = await openRing(person, randomBytes(32), []);
  return openTablet(server, { person, tablet: `tab-${newId()}`, ...ring }, role);
}

/** Opens a tablet again, as after closing the browser. */
export async function openTablet(
  server: FakeServer,
  who: Pick<FakeTablet, 'person' | 'tablet' | 'key' | 'setKeys'>,
  role: Role = 'clinician',
): Promise<FakeTablet> {
  const ahead = { ms: 0 };
  const world = fakeWorld(server, ahead);
  const workspace = await openWorkspace(world, who);
  await workspace.teamDownloads.setTeams([{ id: TEAM, name: 'North', role }]);
  await workspace.projections.settled();
  return { ...who, workspace, world, ahead };
}

/** A person's rows alone, as a workspace has them. */
export function openRowsOf(person: string, ring: Pick<KeyRing, 'key' | 'setKeys'> & Partial<KeyRing>, tablet = ''): Promise<PersonRows> {
  return openPersonRows({ notices: () => () => undefined, now: () => new Date() }, { ...ring, person, tablet });
}

export async function openClientOn(one: FakeTablet, name = 'Invented Client'): Promise<string> {
  const id = newId();
  await one.workspace.projections.write('client-opened', id, {
    team: TEAM,
    ref: 'R-1',
    name,
    referred: '2026-01-05',
    priority: 'soon',
    course: 'stable',
  });
  await one.workspace.projections.settled();
  return id;
}

export async function startVisitOn(one: FakeTablet, client: string, more: { readonly second_of?: string } = {}): Promise<string> {
  const id = newId();
  await one.workspace.projections.write('visit-started', id, { client, team: TEAM, checklist, unit: 'gf', ...more });
  await one.workspace.projections.settled();
  return id;
}

export async function answerOn(one: FakeTablet, visit: string, item: string, level: string): Promise<string> {
  const ref = await one.workspace.projections.write('answer-given', visit, { item, state: 'answered', level });
  await one.workspace.projections.settled();
  return ref;
}

/** Puts a checklist on the tablet, as the first exchange does. */
export async function withChecklist(tablet: FakeTablet): Promise<void> {
  const definition = standardChecklist();
  const key = checklist.hash;
  const box = await tablet.workspace.store.seal('checklists', key, { hash: key, definition });
  await tablet.workspace.store.db.write(['checklists'], (tx) => tx.objectStore('checklists').put({ key, box }));
}

/** Waits until the visit is shown as wanted. */
export function shown(tablet: Pick<FakeTablet, 'workspace'>, visit: string, want: (view: VisitView) => boolean): Promise<VisitView> {
  return new Promise((resolve) => {
    const view = tablet.workspace.projections.openVisit(visit);
    const stop = view.subscribe((now) => {
      if (now === null || !want(now)) return;
      resolve(now);
      queueMicrotask(() => {
        stop();
      });
    });
  });
}
