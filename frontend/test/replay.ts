/**
 * Plays a recorded run of the simulation against the real store: the same
 * entries, the same answers byte for byte, crashes between the same
 * transactions. What must lie in the database afterwards is in the recording.
 */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import assert from 'node:assert/strict';
import { createHttp } from '../lib/api/http';
import { randomBytes, sha256 } from '../lib/bytes';
import { openRing } from '../lib/crypto/key-ring';
import { createLocks } from '../lib/database/locks';
import type { Engine } from '../lib/engine/engine';
import { readRefused } from '../lib/records/refused';
import { openWorkspace, type Workspace, type World } from '../lib/session/workspace';
import { createTestEngine } from './engine';

interface Ask {
  readonly method: string;
  readonly path: string;
  readonly body?: string;
  readonly lost?: boolean;
  /** No answer in the time that the tablet waits. */
  readonly late?: boolean;
  readonly status?: number;
  readonly type?: string;
  readonly sum?: string;
  /** Base64: a bit may have been flipped. */
  readonly answer?: string;
}

interface Disk {
  readonly n: number;
  readonly ack: number;
  readonly log: string;
  /** By team: how far, and how many entries. */
  readonly cursors: Readonly<Record<string, readonly [number, number]>>;
  readonly refused: readonly string[];
  /** "key pos own aside hash" */
  readonly events: readonly string[];
}

interface Step {
  readonly do: 'write' | 'sync';
  readonly at: string;
  readonly zone: string;
  readonly kind?: string;
  readonly subject?: string;
  readonly body?: unknown;
  readonly asks?: readonly Ask[];
  /** The browser dies at this transaction on events, counted from 1. */
  readonly crash?: number;
  /** …after its commit. */
  readonly after?: boolean;
  readonly problem?: string;
  readonly disk: Disk;
}

export interface Recording {
  readonly name: string;
  readonly tablet: string;
  readonly person: string;
  readonly team: string;
  readonly log: string;
  readonly steps: readonly Step[];
}

export async function replay(recording: Recording): Promise<void> {
  globalThis.indexedDB = new IDBFactory();
  const { team, person, tablet } = recording;
  const ring = await openRing(person, randomBytes(32), []);
  const power = createPower();
  let clock = { at: recording.steps[0]?.at ?? '', zone: '' };
  const wire = createWire();
  const world = worldOf(wire, createTestEngine(), () => clock);
  const open = async (): Promise<Workspace> => {
    const workspace = await openWorkspace(world, { person, tablet, ...ring });
    await workspace.teamDownloads.setTeams([{ id: team, name: 'North', role: 'clinician' }]);
    // Nobody goes on before they see what there is.
    await workspace.projections.settled();
    return workspace;
  };

  let workspace = await open();
  await workspace.store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'log', text: recording.log }));
  try {
    for (const [at, step] of recording.steps.entries()) {
      const where = `step ${at + 1} (${step.do}${step.crash === undefined ? '' : ', with a crash'})`;
      clock = step;
      wire.expect(step.asks ?? [], where);
      power.failAt(step.crash ?? 0, step.after === true);
      if (step.do === 'write') {
        const saved = workspace.projections.write(step.kind ?? '', step.subject ?? '', step.body);
        if (step.crash === undefined) await saved;
        else await saved.catch(() => undefined);
      } else {
        await workspace.loop.now();
        if (step.crash === undefined) assert.equal(problemOf(workspace), step.problem ?? '', where);
      }
      wire.done(where);
      if (step.crash !== undefined) {
        workspace.close();
        power.restore();
        workspace = await open();
      }
      assert.deepEqual(await diskOf(workspace), step.disk, where);
    }
  } finally {
    workspace.close();
    power.remove();
  }
}

function problemOf(workspace: Workspace): string {
  const { error, online } = workspace.state.value;
  return error?.code ?? (online ? '' : 'offline');
}

async function diskOf(workspace: Workspace): Promise<Disk> {
  const { store } = workspace;
  const rows = await store.db.read(['events'], (tx) => tx.objectStore('events').getAll());
  const events = await Promise.all(
    rows.map(
      async (row) => `${row.key} ${row.pos} ${row.own ?? 0} ${row.aside === 1} ${(await sha256(await store.openEvent(row))).slice(0, 8)}`,
    ),
  );
  const cursors: Record<string, readonly [number, number]> = {};
  for (const row of await store.db.read(['meta'], (tx) => tx.objectStore('meta').getAll())) {
    if (row.key.startsWith('cursor:')) cursors[row.key.slice('cursor:'.length)] = [row.number ?? 0, row.count ?? 0];
  }
  return {
    n: await store.number('n'),
    ack: await store.number('ack'),
    log: await store.text('log'),
    cursors,
    refused: (await readRefused(store)).map((one) => `${one.ref} ${one.code}`),
    events,
  };
}

interface Wire {
  readonly fetch: typeof fetch;
  readonly expect: (asks: readonly Ask[], where: string) => void;
  /** Every recorded request was made. */
  readonly done: (where: string) => void;
}

/** Answers the exchange of events from the recording, and everything else with nothing to tell. */
function createWire(): Wire {
  let left: Ask[] = [];
  let where = '';
  const wrong: string[] = [];
  const recorded = (method: string, path: string, body: string): Response => {
    const ask = left.shift();
    if (ask === undefined || ask.method !== method || ask.path !== path || (ask.body ?? '') !== body) {
      wrong.push(`${where}: asked\n${method} ${path}\n${body}\nand not\n${ask?.method} ${ask?.path}\n${ask?.body ?? ''}`);
    }
    if (ask?.late) throw new DOMException('no answer yet', 'TimeoutError');
    if (ask === undefined || ask.lost) throw new TypeError('no answer');
    const headers = new Headers({ 'Content-Type': ask.type ?? '' });
    if (ask.sum) headers.set('Doorsill-Sum', ask.sum);
    return new Response(ask.status === 204 ? null : Buffer.from(ask.answer ?? '', 'base64'), { status: ask.status ?? 200, headers });
  };
  return {
    fetch: (input, init) => {
      const [path, method] = [String(input), init?.method ?? 'GET'];
      const sent = init?.body instanceof Uint8Array ? new TextDecoder().decode(init.body) : '';
      if (/\/(events|session|key)(\?|$)/.test(path))
        return new Promise((resolve) => {
          resolve(recorded(method, path, sent));
        });
      return Promise.resolve(other(path));
    },
    expect: (asks, at) => {
      left = [...asks];
      where = at;
    },
    done: (at) => {
      assert.deepEqual(wrong, []);
      assert.deepEqual(
        left.map((one) => `${one.method} ${one.path}`),
        [],
        `${at}: not asked`,
      );
    },
  };
}

function other(path: string): Response {
  const json = (body: unknown, status = 200) =>
    new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });
  if (path.endsWith('/checklists')) return json({ checklists: [] });
  const [, hash] = /\/checklists\/(\w+)$/.exec(path) ?? [];
  if (hash !== undefined) {
    return json({
      hash,
      definition: { format: 'doorsill-checklist/1', id: 'standard', version: 'x', title: 'Standard', sections: [] },
    });
  }
  if (path.endsWith('/people')) return json({ people: [] });
  if (path.endsWith('/quarantine')) return json({ entries: [] });
  if (path.endsWith('/holding')) return new Response(null, { status: 204 });
  return json({ error: 'not-found', message: 'There is nothing with this id.' }, 404);
}

function worldOf(wire: Wire, engine: Engine, clock: () => { readonly at: string; readonly zone: string }): World {
  return {
    http: createHttp(wire.fetch),
    engine,
    locks: createLocks(undefined),
    now: () => new Date(clock().at),
    zone: () => clock().zone,
    random: () => 0.5,
    visible: () => false,
    setTimer: () => null,
    clearTimer: () => undefined,
    channel: () => null,
    notices: () => () => undefined,
    lockedElsewhere: () => undefined,
  };
}

interface Power {
  /** Goes at the nth transaction that writes events; 0 is never. */
  readonly failAt: (nth: number, after: boolean) => void;
  readonly restore: () => void;
  readonly remove: () => void;
}

/** A browser that is killed: its database takes nothing more until it is started again. */
function createPower(): Power {
  let [left, late, dead] = [0, false, false];
  const original = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function transaction(this: IDBDatabase, ...args: Parameters<typeof original>): IDBTransaction {
    if (dead) throw new DOMException('the browser is dead', 'AbortError');
    const tx = original.apply(this, args);
    const writes = args[1] === 'readwrite' && [args[0]].flat().includes('events');
    if (writes && left > 0 && --left === 0) {
      if (late)
        tx.addEventListener('complete', () => {
          dead = true;
        });
      else {
        dead = true;
        tx.abort();
      }
    }
    return tx;
  };
  return {
    failAt: (nth, after) => {
      [left, late] = [nth, after];
    },
    restore: () => {
      [left, dead] = [0, false];
    },
    remove: () => {
      IDBDatabase.prototype.transaction = original;
    },
  };
}
