/** A server in memory that keeps to the protocol, with faults that a test can order. */
import { createHash } from 'node:crypto';
import type { EarlierLog, Entry } from '../lib/model.gen';
import type { ServerResult } from '../lib/records/results';

export type Fault =
  | 'lose-request' // the request never arrives
  | 'bent-log' // the name of the log is damaged on its way to the server
  | 'lose-answer' // the server commits, the answer never arrives
  | 'portal' // a network's own page with status 200
  | 'signed-out'
  | 'slow' // the tablet gives up waiting
  | 'full' // the server's disk has no room
  | 'unsigned' // the server wants a signature, or knows no key
  | 'aside' // the server has set too much aside
  | 'broken';

export interface FakeServer {
  readonly fetch: typeof fetch;
  /** Faults for the next requests, in order; null lets one pass. */
  readonly faults: (Fault | null)[];
  log: string;
  /** The logs that it was restored from, as its pages name them. */
  earlier: readonly EarlierLog[] | undefined;
  readonly entries: Entry[];
  /** Exact lines as received, by tablet and number. */
  readonly lines: Map<string, string>;
  readonly acks: Map<string, number>;
  /** Says why an event is set aside; empty to store it. */
  judge: (event: { readonly kind: string; readonly n: number }) => string;
  /** How many entries of a push are taken in. */
  most: number;
  /** Results by visit that GET /clients gives. */
  readonly results: Map<string, ServerResult>;
  /** People that GET /people gives. */
  readonly people: { readonly id: string; readonly name: string; readonly credential: string }[];
  /** How entries that were set aside were dealt with, by ref. */
  readonly settled: Map<
    string,
    | { readonly settled: string; readonly settled_by: string; readonly note: string; readonly confirmed?: boolean }
    | { readonly placed: string }
  >;
  /** How many of them one page has. */
  pageOfSettled: number;
  /** Forgets everything and begins another log, as after a restore. */
  readonly restore: (log: string) => void;
  /** The server's clock, in ms. */
  now: number;
  readonly requests: string[];
  /** How many entries each push held that arrived. */
  readonly pushes: number[];
  /** Bodies of the keys that tablets have registered, by tablet. */
  readonly keys: Map<string, { readonly algorithm: string; readonly public: string; readonly proof: string }>;
  /** What each push was signed with. */
  readonly signatures: (string | null)[];
}

export const NOW = '2026-03-02T10:00:00.000Z';

function json(status: number, body: unknown): Response {
  return new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });
}

export function createFakeServer(team: string): FakeServer {
  const server: FakeServer = {
    fetch: (input, init) => answer(String(input), init ?? {}),
    faults: [],
    log: 'log-1',
    earlier: undefined,
    entries: [],
    lines: new Map(),
    acks: new Map(),
    judge: () => '',
    most: Infinity,
    results: new Map(),
    people: [],
    settled: new Map(),
    pageOfSettled: 200,
    requests: [],
    pushes: [],
    keys: new Map(),
    signatures: [],
    now: Date.parse(NOW),
    restore: (log) => {
      server.log = log;
      server.entries.length = 0;
      server.lines.clear();
      server.acks.clear();
      server.keys.clear();
    },
  };

  const answer = async (url: string, init: RequestInit): Promise<Response> => {
    // Told before the first push; faults are for what follows.
    if (init.method === 'PUT' && url.endsWith('/key')) return registerKey(server, url, init);
    server.requests.push(`${init.method ?? 'GET'} ${url}`);
    const fault = server.faults.shift();
    if (fault === 'lose-request') throw new TypeError('network down');
    if (fault === 'bent-log') return json(409, { error: 'log', log: server.log, message: 'Another log.' });
    if (fault === 'slow') throw new DOMException('no answer yet', 'TimeoutError');
    if (fault === 'portal')
      return new Response('<html>Sign in to the wireless network</html>', { headers: { 'Content-Type': 'text/html' } });
    if (fault === 'signed-out') return json(401, { error: 'signed-out', message: 'Please sign in.' });
    if (fault === 'full')
      return json(503, {
        error: 'server-full',
        message: 'The server is full and takes nothing in. What you saved stays on this tablet and is sent when there is room again.',
      });
    if (fault === 'unsigned') return json(403, { error: 'unsigned', message: 'This tablet does not sign yet what it sends.' });
    if (fault === 'aside')
      return json(507, {
        error: 'quarantine-full',
        message: '2000 entries from here are set aside and nobody has dealt with them, so the server takes no more of that kind.',
      });
    if (fault === 'broken') return json(500, { error: 'internal', message: 'no' });
    const response = handle(url, init);
    if (fault === 'lose-answer') throw new TypeError('network down');
    return response;
  };

  const handle = (url: string, init: RequestInit): Response => {
    const { pathname, searchParams } = new URL(url, 'http://server.test');
    if (pathname === '/api/v1/events') {
      server.signatures.push(new Headers(init.headers).get('Doorsill-Signature'));
      return push(server, new TextDecoder().decode(init.body as Uint8Array));
    }
    if (pathname === `/api/v1/teams/${team}/events`) return pull(server, searchParams);
    if (pathname === '/api/v1/session')
      return json(200, {
        person: { id: 'p', name: 'P', credential: '' },
        teams: [],
        admin: false,
        log: server.log,
        server_time: new Date(server.now).toISOString(),
      });
    if (pathname === '/api/v1/checklists') return json(200, { checklists: [] });
    if (pathname === '/api/v1/people')
      return json(200, {
        people: server.people.map((one) => ({
          ...one,
          login: 'x',
          admin: false,
          closed: false,
          teams: [{ id: team, name: 'North', role: 'clinician' }],
        })),
      });
    if (pathname === '/api/v1/quarantine') return closed(server, Number(searchParams.get('after')));
    if (pathname.endsWith('/holding')) return new Response(null, { status: 204 });
    if (pathname.startsWith('/api/v1/clients/')) return clientOf(server, pathname.split('/').at(-1) ?? '');
    return json(404, { error: 'not-found', message: 'There is nothing with this id.' });
  };
  return server;
}

function registerKey(server: FakeServer, url: string, init: RequestInit): Response {
  const tablet = decodeURIComponent(url.split('/').at(-2) ?? '');
  server.keys.set(tablet, JSON.parse(String(init.body)) as { algorithm: string; public: string; proof: string });
  return new Response(null, { status: 204 });
}

function closed(server: FakeServer, after: number): Response {
  const next = after + server.pageOfSettled;
  const entries = [...server.settled].map(([ref, one]) => ({ tablet: ref.split(':')[0], n: Number(ref.split(':')[1]), ...one }));
  return json(200, { entries: entries.slice(after, next), next: String(next), more: next < entries.length });
}

interface Head {
  readonly log: string;
  readonly tablet: string;
  readonly from: number;
  readonly count: number;
  readonly sha256: string;
}

function push(server: FakeServer, body: string): Response {
  const cut = body.indexOf('\n');
  const head = JSON.parse(body.slice(0, cut)) as Head;
  const rest = body.slice(cut + 1);
  const lines = rest.split('\n').slice(0, -1);
  if (createHash('sha256').update(rest).digest('hex') !== head.sha256 || lines.length !== head.count) {
    return json(400, { error: 'damaged', message: 'The push arrived damaged.' });
  }
  if (head.log !== '' && head.log !== server.log) return json(409, { error: 'log', log: server.log, message: 'Another log.' });
  const ack = server.acks.get(head.tablet) ?? 0;
  if (head.from > ack + 1) return json(409, { error: 'gap', ack, message: 'Numbers are missing.' });
  server.pushes.push(lines.length);
  const verdicts = lines.slice(0, server.most).map((line, i) => verdictOn(server, head.tablet, head.from + i, line));
  server.acks.set(head.tablet, Math.max(ack, head.from + verdicts.length - 1));
  return json(200, { log: server.log, ack: server.acks.get(head.tablet), verdicts, server_time: new Date(server.now).toISOString() });
}

function verdictOn(server: FakeServer, tablet: string, n: number, line: string): unknown {
  const key = `${tablet}:${n}`;
  const had = server.lines.get(key);
  if (had !== undefined && had !== line) return { n, verdict: 'quarantined', code: 'forked', hint: 'Another entry has this number.' };
  if (had !== undefined) {
    const at = server.entries.find(
      (one) => (one.raw as { tablet: string; n: number }).tablet === tablet && (one.raw as { n: number }).n === n,
    );
    return { n, verdict: 'known', pos: at?.pos ?? 0 };
  }
  server.lines.set(key, line);
  const raw = JSON.parse(line) as { kind?: string; n: number };
  const code = raw.kind === undefined ? 'required' : server.judge({ kind: raw.kind, n });
  if (code !== '') return { n, verdict: 'quarantined', code, hint: 'It does not fit.', field: 'body.value' };
  const pos = server.entries.length + 1;
  server.entries.push({ pos, received: NOW, raw });
  return { n, verdict: 'stored', pos };
}

function pull(server: FakeServer, query: URLSearchParams): Response {
  const log = query.get('log') ?? '';
  if (log !== '' && log !== server.log) return json(409, { error: 'log', log: server.log, message: 'Another log.' });
  const [after, limit] = [Number(query.get('after')), Number(query.get('limit'))];
  const events = server.entries.filter((one) => one.pos > after).slice(0, limit);
  const next = events.at(-1)?.pos ?? after;
  const head = server.entries.length;
  if (after > head) return json(409, { error: 'cursor', log: server.log, message: 'Behind the end.' });
  return json(200, {
    log: server.log,
    earlier: server.earlier,
    events,
    next,
    more: next < head,
    head,
    server_time: new Date(server.now).toISOString(),
  });
}

function clientOf(server: FakeServer, client: string): Response {
  const visits = [...server.results].flatMap(([, one]) => (one.visit.client === client ? [{ visit: one.visit, scored: one.scored }] : []));
  return json(200, { client: {}, visits });
}
