import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition } from '../lib';
import { fieldWords, sayBadInput } from '../lib/errors';
import { kinds } from '../lib/model.gen';
import { quantityOf } from './result/sample';
import { originWords } from './result/figures';
import { standardChecklist } from '../test/engine';
import { amendedWords } from './visit/amend';
import { kindWords } from './words';

test('a field is named in words, and never by its path', () => {
  const cases = {
    'body.level': 'Level',
    'body.hours_driving': 'Hours driving',
    'body.start_gf': 'Start (gf)',
    'body.commands_per_min': 'Commands a minute',
    'body.wrist_deg': 'Wrist (degrees)',
    'body.needed[1]': 'Needed, number 2',
    'body.fields.note': 'Note',
    'visit.readings[0].what': 'What was measured',
    body: '',
    '': '',
  };
  for (const [path, words] of Object.entries(cases)) assert.equal(fieldWords(path), words, path);
  assert.equal(sayBadInput({ code: 'out-of-range', path: 'body.level', want: '0 to 4', got: '7' }), 'Level: expected 0 to 4, got 7.');
  assert.equal(sayBadInput({ code: 'required', path: 'body', want: 'an object', got: '' }), 'This entry: expected an object.');
});

test('a kind of entry is shown in words, also one that this version does not know', () => {
  for (const kind of [...kinds, 'dream-noted']) assert.match(kindWords(kind), /^[A-Z][a-z ]+$/, kind);
});

test('an amended answer is named by the title of its item', () => {
  const amendment = { ref: 'r', by: 'p', at: '', reason: 'slip', kind: 'answer-given', item: 'mnt-power' } as Parameters<
    typeof amendedWords
  >[0];
  const checklist = standardChecklist() as Definition;
  assert.equal(amendedWords(amendment, checklist), 'On and off');
  assert.equal(amendedWords({ ...amendment, item: 'gone' }, checklist), 'Answer');
  assert.equal(amendedWords(amendment, undefined), 'Answer');
});

test('a figure says where its value comes from', () => {
  assert.equal(originWords(quantityOf('usable', 'forward', undefined, { origin: 'missing' })), 'not measured');
});
