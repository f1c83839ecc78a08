/** Lists for the screens, computed from snapshots and from what waits. */
import { computed, type ReadonlySignal } from '@preact/signals';
import type { Snapshot, VisitBrief } from '../database/snapshot';
import type { Control } from '../model.gen';
import { newestFirst } from './order';
import { blindTo } from './second-rating';
import type { ClientCard, ClientView, VisitCard, VisitSync } from './types';
import type { Waiting } from './waiting';

interface CardDeps {
  readonly snapshots: ReadonlySignal<ReadonlyMap<string, Snapshot>>;
  readonly waiting: ReadonlySignal<Waiting>;
  readonly sending: ReadonlySignal<boolean>;
  readonly now: () => Date;
  /** Whose tablet this is. */
  readonly person: string;
}

/** A client whose visits' results the server is to be asked about. */
export interface Unconfirmed {
  readonly client: string;
  /** Each was compared with what the server says: these states are not asked about again. */
  readonly answered: () => void;
}

export interface Cards {
  readonly clients: ReadonlySignal<readonly ClientCard[]>;
  /** Controls that are in the teams' kits, by name. */
  readonly kit: ReadonlySignal<readonly Control[]>;
  readonly needsChoice: ReadonlySignal<number>;
  readonly client: (id: string) => ReadonlySignal<ClientView | null>;
  /** Whether a visit is hidden from this person; reads signals. */
  readonly isBlind: (visit: string) => boolean;
  /** Reads signals: call it inside a computed. */
  readonly syncOf: (subject: string) => VisitSync;
  readonly unconfirmed: () => readonly Unconfirmed[];
  /** The clients that subjects are or belong to. */
  readonly clientsOf: (subjects: Iterable<string>) => readonly string[];
}

const worst: readonly VisitSync[] = ['choice', 'here', 'waiting', 'sent'];

export function createCards(deps: CardDeps): Cards {
  const { snapshots } = deps;
  const visits = computed(() => briefsByClient(snapshots.value.values(), deps.now()));

  const syncOf = (subject: string): VisitSync => {
    const snapshot = snapshots.value.get(subject);
    if (snapshot?.type === 'visit' && snapshot.brief.needsChoice > 0) return 'choice';
    if (!deps.waiting.value.of.has(subject)) return 'sent';
    return deps.sending.value ? 'waiting' : 'here';
  };

  const isBlind = (visit: string): boolean => {
    const snapshot = snapshots.value.get(visit);
    return snapshot?.type === 'visit' && blindTo(deps.person, snapshot.brief, visits.value.get(snapshot.brief.client) ?? []);
  };

  const visitsOf = (client: string): { readonly visits: readonly VisitCard[]; readonly sync: VisitSync } => {
    const cards = (visits.value.get(client) ?? []).map((brief) => {
      const card = { ...brief, sync: syncOf(brief.id), blind: isBlind(brief.id) };
      return card.blind ? { ...card, level: '', interim: false, answered: 0, recheck: '' } : card;
    });
    const all = [syncOf(client), ...cards.map((card) => card.sync)];
    return { visits: cards, sync: worst.find((one) => all.includes(one)) ?? 'sent' };
  };

  const clients = computed(() =>
    byName(
      ofType(snapshots.value.values(), 'client').map(({ client }): ClientCard => {
        const { id, name, ref, team, priority, course, referred, status, assignee } = client;
        return { id, name, ref, team, priority, course, referred, status, assignee, ...visitsOf(id) };
      }),
    ),
  );

  return {
    clients,
    isBlind,
    syncOf,
    kit: computed(() =>
      byName(
        ofType(snapshots.value.values(), 'control')
          .map((one) => one.control)
          .filter((control) => !control.gone),
      ),
    ),
    client: (id) =>
      computed((): ClientView | null => {
        const snapshot = snapshots.value.get(id);
        return snapshot?.type === 'client' ? { client: snapshot.client, ...visitsOf(id) } : null;
      }),
    needsChoice: computed(() => ofType(snapshots.value.values(), 'visit').filter((one) => one.brief.needsChoice > 0).length),
    unconfirmed: createUnconfirmed(deps),
    clientsOf: (subjects) => [...new Set([...subjects].flatMap((subject) => clientOf(subject, snapshots.peek().get(subject))))],
  };
}

type OfType<T extends Snapshot['type']> = Extract<Snapshot, { readonly type: T }>;

function ofType<T extends Snapshot['type']>(snapshots: Iterable<Snapshot>, type: T): readonly OfType<T>[] {
  return [...snapshots].filter((one): one is OfType<T> => one.type === type);
}

function byName<T extends { readonly id: string; readonly name: string }>(list: readonly T[]): readonly T[] {
  return [...list].sort((a, b) => a.name.localeCompare(b.name) || (a.id < b.id ? -1 : 1));
}

function briefsByClient(snapshots: Iterable<Snapshot>, now: Date): ReadonlyMap<string, readonly VisitBrief[]> {
  const by = new Map<string, VisitBrief[]>();
  for (const { brief } of ofType(snapshots, 'visit')) {
    const list = by.get(brief.client);
    if (list === undefined) by.set(brief.client, [brief]);
    else list.push(brief);
  }
  return new Map([...by].map(([client, list]) => [client, newestFirst(list, now)]));
}

/** The client that a subject is or belongs to; a control belongs to none. */
function clientOf(subject: string, snapshot: Snapshot | undefined): readonly string[] {
  if (snapshot?.type === 'control') return [];
  return [snapshot?.type === 'visit' ? snapshot.brief.client : subject];
}

function createUnconfirmed(deps: CardDeps): Cards['unconfirmed'] {
  /** Asked for already; a brief is a new object whenever its visit changes. */
  const asked = new WeakSet<VisitBrief>();
  return () => {
    const by = new Map<string, VisitBrief[]>();
    for (const { brief } of ofType(deps.snapshots.peek().values(), 'visit')) {
      if (!brief.provisional || asked.has(brief) || deps.waiting.peek().of.has(brief.id)) continue;
      by.set(brief.client, [...(by.get(brief.client) ?? []), brief]);
    }
    return [...by].map(([client, briefs]) => ({
      client,
      answered: () => {
        for (const one of briefs) asked.add(one);
      },
    }));
  };
}
