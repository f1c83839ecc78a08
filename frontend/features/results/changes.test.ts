import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import type { Definition } from '../../lib';
import type { Message, MessageArg, Result, Step, Visit } from '../../lib/model.gen';
import { choiceOf, resultWith, saying } from '../../ui/result/sample';
import { createTitles } from '../../ui/result/titles';
import { changesOf } from './changes';

const checklist = {
  sections: [
    {
      code: 'saf',
      title: 'Safety',
      items: [
        { id: 'saf-stop', title: 'Stops and holds' },
        { id: 'saf-force', title: 'Force', from: 'force-reserve' },
      ],
    },
  ],
} as unknown as Definition;

const visit = {
  id: 'v',
  setup: { control: '', class: 'small', site: 'chin' },
  kit: [
    { id: 'kit-light', class: 'very-light', name: 'Feather' },
    { id: 'kit-firm', class: 'standard', name: 'Firm' },
  ],
} as unknown as Visit;

const reason = (rule: string, text: string) => ({ rule, verdict: 'feasible', message: saying(text) });

const step = (code: string, item = ''): Step => ({
  level: 'practise',
  message: saying(`Says ${code}.`, code),
  ...(item === '' ? {} : { item }),
});

const because = (why: string): Message => ({ ...saying('Aloud.'), args: { why } as Record<string, MessageArg> });

const changes = (parts: Partial<Result>) => changesOf(resultWith(parts), visit, checklist, createTitles(checklist));

const light = choiceOf('kit-light', { role: 'main', reasons: [reason('pain', 'No pain.'), reason('force', 'Nine times what it asks.')] });

test('where force decides, another control and support come before the steps; three are shown and the rest kept', () => {
  const steps = ['readiness.step-hold', 'readiness.step-drive', 'readiness.step-limits'].map((code) => step(code));
  const { first, rest } = changes({ aloud: because('force'), choices: [choiceOf('kit-firm', { role: 'fallback' }), light], up: steps });
  assert.deepEqual(
    first.map(({ title, text, button, href, picture }) => ({ title, text, button, href, picture })),
    [
      {
        title: 'Feather, chin',
        text: 'Nine times what it asks.',
        button: 'Set up a trial',
        href: '/visits/v/setup',
        picture: { control: 'very-light' },
      },
      {
        title: 'Hold the limb up',
        text: 'Support often adds force. Measure the weak direction before and after.',
        button: 'Measure again',
        href: '/visits/v/measure/force',
        picture: { task: 'support' },
      },
      {
        title: 'Hold longer',
        text: 'Says readiness.step-hold.',
        button: 'Time it again',
        href: '/visits/v/measure/hold',
        picture: { task: 'measure' },
      },
    ],
  );
  assert.deepEqual(
    rest.map((one) => one.title),
    ['Drive once more', 'Write the limits down'],
  );
});

test('another control is offered only where a control is what stands in the way, and support only for force', () => {
  const keys = (why: string) => changes({ aloud: because(why), choices: [light] }).first.map((one) => one.key);
  assert.deepEqual(keys('travel'), ['control']);
  assert.deepEqual(keys('pain'), ['control']);
  assert.deepEqual(keys('force'), ['control', 'support']);
  assert.deepEqual(keys('judgement'), []);
  assert.deepEqual(changes({ choices: [light] }).first, [], 'nor where nobody says why');
});

test('the control in use is never offered as the other one, and neither is what is no first choice', () => {
  const own = choiceOf('class:small', { role: 'main' });
  assert.deepEqual(
    changes({ aloud: because('travel'), choices: [own, choiceOf('kit-firm', { role: 'fallback' }), choiceOf('kit-firm')] }).first,
    [],
  );
  const elsewhere = choiceOf('class:small', { role: 'main', site: 'lip' });
  assert.deepEqual(
    changes({ aloud: because('travel'), choices: [elsewhere] }).first.map((one) => one.key),
    ['control'],
    'at another site it is another',
  );
});

test('a step leads to its question, or to where it is measured, or to what is missing', () => {
  const [asked, measured, neither] = changes({
    up: [step('readiness.step-known', 'saf-stop'), step('readiness.step-computed', 'saf-force'), step('readiness.step-help')],
  }).first;
  assert.deepEqual([asked?.title, asked?.button, asked?.href], ['Stops and holds', 'Answer it', '/visits/v/part/saf?item=saf-stop']);
  assert.deepEqual([measured?.title, measured?.button, measured?.href], ['Force', 'Measure it', '/visits/v/measure/force']);
  assert.deepEqual([neither?.title, neither?.button, neither?.href], ['Go on here', 'Answer it', '/visits/v/missing']);
});

test('what is worked out from readings is measured, whatever the step says of it', () => {
  const [first] = changes({ up: [step('readiness.clear-answer', 'saf-force')] }).first;
  assert.deepEqual([first?.button, first?.picture, first?.href], ['Measure it', { task: 'measure' }, '/visits/v/measure/force']);
});

test('each kind of step that the engine names has what to do about it', () => {
  const catalogue = readFileSync('internal/phrase/en/readiness.txt', 'utf8');
  const codes = [...catalogue.matchAll(/^(readiness\.step-[\w-]+):/gm)].map(([, code = '']) => code);
  assert.ok(codes.length > 15);
  const answered = codes.filter((code) => changes({ up: [step(code, 'saf-stop')] }).first[0]?.button === 'Answer it');
  // These are questions of the checklist, or are found out by asking.
  assert.deepEqual(answered, [
    'readiness.step-known',
    'readiness.step-before-moving',
    'readiness.step-untested',
    'readiness.step-untested-choose',
    'readiness.step-help',
    'readiness.step-better',
    'readiness.step-test',
  ]);
});

test('two steps about one question are two cards', () => {
  const { first } = changes({ up: [step('readiness.step-known', 'saf-stop'), step('readiness.step-test', 'saf-stop')] });
  assert.equal(new Set(first.map((one) => one.key)).size, 2);
});
