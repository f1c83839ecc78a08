import assert from 'node:assert/strict';
import { test } from 'node:test';
import { dateOf, daysBetween } from '../../lib/dates';
import type { ClientCard, VisitCard } from '../../lib/records/types';
import { onlyHere, openVisitOf, orderClients, searchClients } from './find';

function card(name: string, change: Partial<ClientCard> = {}): ClientCard {
  return {
    id: name,
    name,
    ref: `R-${name}`,
    team: 't',
    priority: 'routine',
    course: 'stable',
    referred: '2026-01-10',
    status: 'waiting',
    assignee: '',
    visits: [],
    sync: 'sent',
    ...change,
  };
}

function visit(change: Partial<VisitCard> = {}): VisitCard {
  return {
    id: 'v',
    client: 'c',
    team: 't',
    startedAt: '2026-02-01T09:00:00.000Z',
    startedBy: 'p',
    signedAt: '',
    answered: 0,
    needsChoice: 0,
    checklist: 'h',
    level: '',
    interim: false,
    provisional: false,
    recheck: '',
    secondOf: '',
    sync: 'sent',
    blind: false,
    ...change,
  };
}

test('search ignores case, accents and the order of words, and looks at the number', () => {
  const cards = [card('Zoë Fictive'), card('Bram Made-Up', { ref: 'N-77' })];
  assert.deepEqual(
    searchClients(cards, 'FICTIVE zoe').map((c) => c.name),
    ['Zoë Fictive'],
  );
  assert.deepEqual(
    searchClients(cards, 'n-77').map((c) => c.name),
    ['Bram Made-Up'],
  );
  assert.equal(searchClients(cards, '  ').length, 2);
});

test('open visits come first, then priority, then the longest wait, closed last', () => {
  const cards = [
    card('closed', { status: 'closed', priority: 'urgent' }),
    card('newer', { referred: '2026-02-01' }),
    card('older'),
    card('urgent', { priority: 'urgent', referred: '2026-02-20' }),
    card('open', { visits: [visit()] }),
  ];
  assert.deepEqual(
    orderClients(cards).map((c) => c.name),
    ['open', 'urgent', 'older', 'newer', 'closed'],
  );
});

test('a signed visit is not open', () => {
  assert.equal(openVisitOf(card('a', { visits: [visit({ signedAt: '2026-02-01T10:00:00.000Z' })] })), null);
});

test('a client counts as only here while any of its visits waits', () => {
  assert.equal(onlyHere(card('a', { visits: [visit({ sync: 'waiting' })] })), true);
  assert.equal(onlyHere(card('a', { visits: [visit({ sync: 'choice' })] })), false);
});

test('days are whole and never negative', () => {
  assert.equal(daysBetween('2026-02-27', '2026-03-02T08:00:00Z'), 3);
  assert.equal(daysBetween('2026-03-02', '2026-02-27'), 0);
  assert.equal(daysBetween('', '2026-02-27'), 0);
  assert.equal(dateOf(new Date(2026, 0, 5)), '2026-01-05');
});
