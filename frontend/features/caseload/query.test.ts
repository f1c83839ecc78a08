import assert from 'node:assert/strict';
import { test } from 'node:test';
import { caseloadRequest, pagesFor, sortedBy, START } from './query';

test('the address holds only what narrows the list, and no words that were searched for', () => {
  assert.deepEqual(caseloadRequest('a/b', START, 200), {
    path: '/api/v1/teams/a%2Fb/caseload?sort=wait&order=asc&status=open&offset=200&limit=100',
  });
  assert.deepEqual(caseloadRequest('t', { ...START, q: ' zoë & co ', flag: 'stop', level: 'none' }, 0), {
    path: '/api/v1/teams/t/caseload/search?sort=wait&order=asc&level=none&flag=stop&status=open&offset=0&limit=100',
    search: { q: 'zoë & co' },
  });
});

test('the same column again turns the order round, another one starts at its first', () => {
  const once = sortedBy(START, 'level');
  assert.deepEqual([once.sort, once.order], ['level', 'first']);
  const twice = sortedBy(once, 'level');
  assert.equal(twice.order, 'last');
  assert.equal(sortedBy(twice, 'name').order, 'first');
});

test('a range of rows touches each page once', () => {
  assert.deepEqual(pagesFor(0, 20), [0]);
  assert.deepEqual(pagesFor(95, 105), [0, 100]);
  assert.deepEqual(pagesFor(250, 420), [200, 300, 400]);
});
