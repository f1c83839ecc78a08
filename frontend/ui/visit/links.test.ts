import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition } from '../../lib';
import type { Missing } from '../../lib/model.gen';
import { saying } from '../result/sample';
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

const cases: readonly (readonly [what: Pick<Missing, 'item' | 'reading'>, href: string])[] = [
  [{ item: 'pos-trunk' }, '/visits/v/part/pos?item=pos-trunk'],
  [{ item: 'ctl-hold' }, '/visits/v/measure/hold'],
  [{ reading: { what: 'setup' } }, '/visits/v/setup'],
  [{ reading: { what: 'force', site: 'chin', direction: 'left' } }, '/visits/v/measure/force?site=chin&direction=left'],
  [{ reading: { what: 'switch-force', site: 'foot-left' } }, '/visits/v/measure/switch?site=foot-left'],
  [{ reading: { what: 'run' } }, '/visits/v/trial'],
  [{ item: 'something-new' }, '/visits/v'],
  [{ reading: { what: 'something-new' } }, '/visits/v'],
];

for (const [what, href] of cases) {
  test(`"${JSON.stringify(what)}" is filled in at ${href}`, () => {
    assert.equal(missingLink('v', checklist, { group: 'needed', ...what, message: saying('') }), href);
  });
}
