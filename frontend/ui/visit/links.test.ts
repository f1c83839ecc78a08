import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition } from '../../lib';
import type { Missing } from '../../lib/engine/result';
import { missingLink } from './links';

const checklist: Definition = {
  format: 'doorsill-checklist/1',
  id: 'test',
  version: '1',
  title: 'Test',
  help: [],
  sections: [
    {
      code: 'pos',
      title: 'Positioning',
      items: [
        { id: 'pos-trunk', title: 'Trunk', prompt: '', type: 'fit', weight: 3 },
        { id: 'ctl-hold', title: 'Hold', prompt: '', type: 'number', weight: 2, from: 'hold' },
      ],
    },
  ],
};

function missing(what: string, reading: boolean): Missing {
  return { group: 'needed', what, reading, sentence: '' };
}

const cases: readonly (readonly [what: string, reading: boolean, href: string])[] = [
  ['pos-trunk', false, '/visits/v/part/pos?item=pos-trunk'],
  ['ctl-hold', false, '/visits/v/measure/hold'],
  ['setup', false, '/visits/v/setup'],
  ['force:chin:left', true, '/visits/v/measure/force?site=chin&direction=left'],
  ['switch-force:foot-left:', true, '/visits/v/measure/switch?site=foot-left'],
  ['run', true, '/visits/v/trial'],
  ['something-new', false, '/visits/v'],
];

for (const [what, reading, href] of cases) {
  test(`"${what}" is filled in at ${href}`, () => {
    assert.equal(missingLink('v', checklist, missing(what, reading)), href);
  });
}
