import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chosenProblems, passwordProblems } from '../../lib/password-rules';
import { draftOf, EMPTY_PERSON, personProblems, requestOf } from './person-form';

test('a new account needs a name, a sign-in name and a long password', () => {
  assert.deepEqual(
    personProblems({ ...EMPTY_PERSON, password: 'short' }, true).map((one) => one.message),
    [
      'Name: write the name as it stands on paper.',
      'Sign-in name: write the name that the person signs in with.',
      'Password: expected at least 15 characters, got 5.',
    ],
  );
  assert.deepEqual(personProblems({ ...EMPTY_PERSON, name: 'Invented' }, false), []);
});

test('a password is counted in characters, not in bytes', () => {
  assert.deepEqual(passwordProblems('äöüßéñçøåœæðłşž'), []);
});

test('a change sends neither sign-in name nor password, and only teams with a role', () => {
  const draft = draftOf({
    id: 'p',
    login: 'invented',
    name: 'Invented',
    credential: 'OT',
    admin: false,
    closed: false,
    teams: [
      { id: 't1', name: 'One', role: 'lead' },
      { id: 't2', name: 'Two', role: 'assistant' },
    ],
  });
  assert.deepEqual(requestOf({ ...draft, roles: { ...draft.roles, t2: '' } }, false), {
    name: 'Invented',
    credential: 'OT',
    admin: false,
    closed: false,
    teams: [{ id: 't1', role: 'lead' }],
  });
});

test('a tablet password is typed twice alike and is long', () => {
  assert.deepEqual(chosenProblems('nine quiet lamps', 'nine quiet lamps'), { password: undefined, again: undefined });
  assert.equal(chosenProblems('nine quiet lamps', 'nine quiet lamp').again, 'The same once more: expected the same password as above.');
  assert.equal(chosenProblems('short', 'short').password, 'Password: expected at least 15 characters, got 5.');
});
