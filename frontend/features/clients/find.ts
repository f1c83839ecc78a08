/** Searching and ordering the clients that are on this tablet. */
import type { ClientCard, VisitCard } from '../../lib';

/** Lower case without accents, so that "Zoe" finds "Zoë". */
export function folded(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}

/** Clients whose name or service number holds every word of the search. */
export function searchClients(cards: readonly ClientCard[], search: string): readonly ClientCard[] {
  const words = folded(search)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return cards;
  return cards.filter((card) => {
    const text = folded(`${card.name} ${card.ref}`);
    return words.every((word) => text.includes(word));
  });
}

/** A visit that somebody began and nobody signed. */
export function openVisitOf(card: ClientCard): VisitCard | null {
  return card.visits.find((visit) => visit.signedAt === '') ?? null;
}

/** True when something about the client is not at the server yet. */
export function onlyHere(card: ClientCard): boolean {
  return card.sync === 'here' || card.sync === 'waiting' || card.visits.some((visit) => visit.sync === 'here' || visit.sync === 'waiting');
}

const PRIORITY_RANK: Readonly<Record<string, number>> = { urgent: 0, soon: 1, routine: 2 };

/** Open visits first, then by priority, then by the longest wait; closed clients last. */
export function orderClients(cards: readonly ClientCard[]): readonly ClientCard[] {
  return [...cards].sort(
    (a, b) =>
      Number(a.status === 'closed') - Number(b.status === 'closed') ||
      Number(openVisitOf(b) !== null) - Number(openVisitOf(a) !== null) ||
      rank(a) - rank(b) ||
      compare(a.referred, b.referred) ||
      compare(folded(a.name), folded(b.name)),
  );
}

function rank(card: ClientCard): number {
  return PRIORITY_RANK[card.priority] ?? 3;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
