/** Lists for the screens, computed from snapshots and from what waits. */
import { computed, type ReadonlySignal } from '@preact/signals';
import type { Control } from '../model.gen';
import { blindTo } from './second-rating';
import { newestFirst } from './order';
import type { Snapshot, VisitBrief } from './snapshot';
import type { ClientCard, ClientView, VisitCard, VisitSync } from './types';
import type { Waiting } from './waiting';

export interface CardDeps {
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
  /** The server has answered: these states are not asked about again. */
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
  const syncOf = (subject: string): VisitSync => {
    const snapshot = deps.snapshots.value.get(subject);
    if (snapshot?.type === 'visit' && snapshot.brief.needsChoice > 0) return 'choice';
    if (!deps.waiting.value.of.has(subject)) return 'sent';
    return deps.sending.value ? 'waiting' : 'here';
  };

  const visits = computed(() => {
    const by = new Map<string, VisitBrief[]>();
    for (const snapshot of deps.snapshots.value.values()) {
      if (snapshot.type !== 'visit') continue;
      const list = by.get(snapshot.brief.client);
      if (list === undefined) by.set(snapshot.brief.client, [snapshot.brief]);
      else list.push(snapshot.brief);
    }
    const now = deps.now();
    return new Map([...by].map(([client, list]) => [client, newestFirst(list, now)]));
  });

  const isBlind = (visit: string): boolean => {
    const snapshot = deps.snapshots.value.get(visit);
    return snapshot?.type === 'visit' && blindTo(deps.person, snapshot.brief, visits.value.get(snapshot.brief.client) ?? []);
  };

  const visitsOf = (client: string): readonly VisitCard[] =>
    (visits.value.get(client) ?? []).map((brief) => {
      const card = { ...brief, sync: syncOf(brief.id), blind: isBlind(brief.id) };
      return card.blind ? { ...card, level: '', interim: false, answered: 0, recheck: '' } : card;
    });

  const together = (client: string, cards: readonly VisitCard[]): VisitSync => {
    const all = [syncOf(client), ...cards.map((card) => card.sync)];
    return worst.find((one) => all.includes(one)) ?? 'sent';
  };

  const clients = computed(() => {
    const list: ClientCard[] = [];
    for (const snapshot of deps.snapshots.value.values()) {
      if (snapshot.type !== 'client') continue;
      const { id, name, ref, team, priority, course, referred, status, assignee } = snapshot.client;
      const cards = visitsOf(id);
      list.push({ id, name, ref, team, priority, course, referred, status, assignee, visits: cards, sync: together(id, cards) });
    }
    return list.sort((a, b) => a.name.localeCompare(b.name) || (a.id < b.id ? -1 : 1));
  });

  const kit = computed(() => {
    const list: Control[] = [];
    for (const snapshot of deps.snapshots.value.values()) {
      if (snapshot.type === 'control' && !snapshot.control.gone) list.push(snapshot.control);
    }
    return list.sort((a, b) => a.name.localeCompare(b.name) || (a.id < b.id ? -1 : 1));
  });

  const client = (id: string) =>
    computed((): ClientView | null => {
      const snapshot = deps.snapshots.value.get(id);
      if (snapshot?.type !== 'client') return null;
      const cards = visitsOf(id);
      return { client: snapshot.client, visits: cards, sync: together(id, cards) };
    });

  const needsChoice = computed(() => {
    let count = 0;
    for (const snapshot of deps.snapshots.value.values()) {
      if (snapshot.type === 'visit' && snapshot.brief.needsChoice > 0) count += 1;
    }
    return count;
  });

  /** Asked for already; a brief is a new object whenever its visit changes. */
  const asked = new WeakSet<VisitBrief>();

  const unconfirmed = (): readonly Unconfirmed[] => {
    const by = new Map<string, VisitBrief[]>();
    for (const snapshot of deps.snapshots.peek().values()) {
      if (snapshot.type !== 'visit' || !snapshot.brief.provisional) continue;
      const { brief } = snapshot;
      if (asked.has(brief) || deps.waiting.peek().of.has(brief.id)) continue;
      by.set(brief.client, [...(by.get(brief.client) ?? []), brief]);
    }
    return [...by].map(([id, briefs]) => ({
      client: id,
      answered: () => {
        for (const one of briefs) asked.add(one);
      },
    }));
  };

  const clientsOf = (subjects: Iterable<string>): readonly string[] => {
    const all = [...subjects].flatMap((subject) => {
      const snapshot = deps.snapshots.peek().get(subject);
      if (snapshot?.type === 'control') return [];
      return [snapshot?.type === 'visit' ? snapshot.brief.client : subject];
    });
    return [...new Set(all)];
  };

  return { clients, kit, needsChoice, client, isBlind, syncOf, unconfirmed, clientsOf };
}
