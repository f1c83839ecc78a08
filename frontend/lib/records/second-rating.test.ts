import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { VisitCard } from '../../lib';
import { ratable } from '../../lib/records/second-rating';

function card(id: string, startedBy: string, secondOf = ''): VisitCard {
  return {
    id,
    client: 'c',
    team: 't',
    startedAt: '',
    startedBy,
    signedAt: '',
    answered: 0,
    needsChoice: 0,
    checklist: 'h',
    level: '',
    interim: false,
    provisional: false,
    recheck: '',
    secondOf,
    blind: false,
    sync: 'sent',
  };
}

test('one rates a colleague’s visit that nobody has rated a second time', () => {
  const cards = [card('mine', 'me'), card('rated', 'other'), card('free', 'other'), card('second', 'third', 'rated')];
  assert.deepEqual(
    ratable(cards, 'me').map((one) => one.id),
    ['free'],
  );
});
