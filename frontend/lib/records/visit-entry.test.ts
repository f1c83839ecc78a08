import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError } from '../errors';
import type { Visit } from '../model.gen';
import { writeVisitEntry } from './visit-entry';

const heads = (ref: string) => [{ item: 'ctl-pain', heads: [{ item: 'ctl-pain', state: 'answered', ref, pos: 4, number: 2 }] }];
const setup = { class: 'small', control: 'Grey stick', site: 'chin' };

const open = { id: 'v1', answers: heads('tab-b:3'), setup } as unknown as Visit;
const signed = { ...open, signed: { ref: 'tab-c:9', name: 'Ann' } } as unknown as Visit;

/** Writes a note with the visit as the page shows it, as the tablet has it and the reason for amending it. */
async function note(shown: Visit, now: Visit | undefined, reason?: string) {
  const written: unknown[] = [];
  const deps = {
    now: (id: string) => (id === shown.id ? now : undefined),
    amending: (id: string) => (id === shown.id ? reason : undefined),
    tablet: () => 'tab-a',
    write: (...entry: unknown[]) => {
      written.push(entry);
      return Promise.resolve('tab-a:1');
    },
  };
  const ref = await writeVisitEntry(deps, shown, 'visit-noted', { fields: { risks: 'terrace' } }).catch((error: unknown) => error);
  return { ref, written };
}

const plain = ['visit-noted', 'v1', { fields: { risks: 'terrace' } }];
const amendment = ['amendment-made', 'v1', { reason: 'was typed', kind: 'visit-noted', change: { fields: { risks: 'terrace' } } }];

test('signed counts as the tablet has it now, not as the page that is being left showed it', async () => {
  const refused = await note(open, signed);
  assert.ok(refused.ref instanceof StoreError && refused.ref.code === 'refused');
  assert.deepEqual(refused.written, [], 'nothing goes out that would be set aside');
  assert.deepEqual((await note(open, signed, 'was typed')).written, [amendment]);
  assert.deepEqual((await note(signed, open)).written, [plain], 'a signature that is no more');
});

test('an entry of an open visit goes out as it is, also while one amends nothing', async () => {
  assert.deepEqual(await note(open, open, 'was typed'), { ref: 'tab-a:1', written: [plain] });
});

test('where the visit is not open the page says whether it is signed', async () => {
  assert.deepEqual((await note(open, undefined)).written, [plain]);
  assert.deepEqual((await note(signed, undefined, 'was typed')).written, [amendment]);
  assert.ok((await note(signed, undefined)).ref instanceof StoreError);
});

test('an answer names the control in use and what the page shows of its item, whatever came in since', async () => {
  const written: unknown[] = [];
  await writeVisitEntry(
    {
      now: () => ({ ...open, answers: heads('tab-b:7') }) as unknown as Visit,
      amending: () => undefined,
      tablet: () => 'tab-a',
      write: (_kind, _visit, body) => {
        written.push(body);
        return Promise.resolve('tab-a:1');
      },
    },
    open,
    'answer-given',
    { item: 'ctl-pain', state: 'answered', number: 4 },
  );
  assert.deepEqual(written, [{ item: 'ctl-pain', state: 'answered', number: 4, ...setup, replaces: ['tab-b:3'] }]);
});
