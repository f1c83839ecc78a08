/** A tablet for tests: the real store on an IndexedDB in memory, with a fake server and engine. */
import 'fake-indexeddb/auto';
import { createHttp } from '../lib/api/http';
import { newId, randomBytes } from '../lib/bytes';
import { importKey } from '../lib/crypto/cipher';
import { createLocks } from '../lib/database/locks';
import type { Engine } from '../lib/engine/engine';
import type { Role, VisitView } from '../lib/records/types';
import { openWorkspace, type Workspace, type World } from '../lib/session/workspace';
import type { FakeServer } from './fake-server';

export const TEAM = 'team-a';

const checklist = { id: 'standard', version: '2026.1', hash: 'h'.repeat(64) };

export interface FakeTablet {
  readonly workspace: Workspace;
  readonly person: string;
  readonly tablet: string;
  readonly key: CryptoKey;
  readonly world: World;
  /** How far its clock is off. */
  readonly ahead: { ms: number };
}

/** Answers each visit text with a result that names its length. */
export const fakeEngine: Engine = {
  score: (_key, hash, _rules, visit) => Promise.resolve(`doorsill-result\t1\ttest\t${hash}\nlevel\tpractise\t1\tTested ${visit.length}.\n`),
  plausible: () => Promise.resolve({ kind: 'ok', sentence: '' }),
  thresholds: () => Promise.resolve(''),
  repeats: () => Promise.resolve(''),
  run: () => Promise.resolve(''),
  convert: (values) => Promise.resolve(values),
  plan: () => Promise.resolve(''),
  advice: () => Promise.resolve(''),
  trend: () => Promise.resolve(''),
  warm: () => undefined,
  stop: () => undefined,
};

/** `ahead` is how far the tablet's clock is off, in ms. */
export function fakeWorld(server: FakeServer, ahead = { ms: 0 }): World {
  return {
    http: createHttp(server.fetch),
    engine: fakeEngine,
    locks: createLocks(undefined),
    now: () => new Date(server.now + ahead.ms),
    zone: () => 'Europe/Dublin',
    random: () => 0.5,
    visible: () => false,
    setTimer: () => null,
    clearTimer: () => undefined,
    channel: () => null,
    notices: () => undefined,
    lockedElsewhere: () => undefined,
  };
}

export async function newTablet(server: FakeServer, role: Role = 'clinician'): Promise<FakeTablet> {
  const person = `person-${newId()}`;
  const key = await importKey(randomBytes(32));
  return openTablet(server, { person, tablet: `tab-${newId()}`, key }, role);
}

/** Opens a tablet again, as after closing the browser. */
export async function openTablet(
  server: FakeServer,
  who: Pick<FakeTablet, 'person' | 'tablet' | 'key'>,
  role: Role = 'clinician',
): Promise<FakeTablet> {
  const ahead = { ms: 0 };
  const world = fakeWorld(server, ahead);
  const workspace = await openWorkspace(world, who);
  await workspace.teamDownloads.setTeams([{ id: TEAM, name: 'North', role }]);
  return { ...who, workspace, world, ahead };
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
  return id;
}

export async function startVisitOn(one: FakeTablet, client: string, more: { readonly second_of?: string } = {}): Promise<string> {
  const id = newId();
  await one.workspace.projections.write('visit-started', id, { client, team: TEAM, checklist, unit: 'gf', ...more });
  return id;
}

export async function answerOn(one: FakeTablet, visit: string, item: string, level: string): Promise<string> {
  return one.workspace.projections.write('answer-given', visit, { item, state: 'answered', level });
}

/** Puts a checklist on the tablet, as the first exchange does. */
export async function withChecklist(tablet: FakeTablet): Promise<void> {
  const definition = { format: 'doorsill-checklist/1', id: checklist.id, version: checklist.version, title: 'Standard', sections: [] };
  const key = checklist.hash;
  const box = await tablet.workspace.store.seal('checklists', key, { hash: key, rules: 'rules', definition });
  await tablet.workspace.store.db.write(['checklists'], (tx) => tx.objectStore('checklists').put({ key, box }));
}

/** Waits until the visit is shown as wanted. */
export function shown(tablet: FakeTablet, visit: string, want: (view: VisitView) => boolean): Promise<VisitView> {
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
