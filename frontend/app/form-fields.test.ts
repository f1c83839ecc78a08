/**
 * Holds that no form keeps what stands in it for itself: a field whose value comes
 * from useState is empty after a lock or a crash. Drafts are what keeps it
 * (ui/draft.ts).
 */
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';

/**
 * What stands in these is no form: a password or PIN, which is never kept, and what
 * is searched for or chosen to be looked at, by file and state.
 */
const NO_FORM: ReadonlySet<string> = new Set([
  'features/lock/pin-form.tsx pin',
  'features/lock/sign-in.tsx name',
  'features/lock/sign-in.tsx password',
  'features/lock/sign-in.tsx oldPassword',
  'features/lock/tablet-part.tsx pin',
  'features/lock/tablet-part.tsx password',
  'features/people/password-form.tsx current',
  'features/people/password-form.tsx password',
  'features/people/tablets-part.tsx chosen',
  'features/caseload/caseload-screen.tsx chosen',
  'features/caseload/caseload-screen.tsx tab',
  'features/caseload/filters.tsx search',
  'features/caseload/quarantine.tsx after',
  'features/clients/today.tsx hidden',
  'features/clients/today.tsx search',
  'features/clients/today.tsx show',
  'features/kit/controls-screen.tsx chosen',
  'features/kit/force-view.tsx even',
  'features/kit/force-view.tsx picked',
  'features/kit/kit-screen.tsx chosen',
  'features/kit/kit-screen.tsx left',
  'features/trend/agreement-screen.tsx chosen',
  'features/visit/find-item.tsx typed',
  'ui/site-picker.tsx shown',
]);

const sources = readdirSync('frontend', { recursive: true, encoding: 'utf8' }).filter(
  (name) => /^(?:app|ui|features)\/.*\.tsx$/.test(name) && !name.includes('.test.') && !name.startsWith('features/parts/'),
);

/** The states of a file that stand in a field: by its name, or as a part of it. */
function statesInFields(name: string, text: string): readonly string[] {
  const states = [...text.matchAll(/const \[(\w+), ?\w*\] = useState/g)].map((found) => found[1] ?? '');
  return states
    .filter((state) => new RegExp(`\\b(?:value|checked|typed)=\\{(?:String\\()?${state}\\b`).test(text))
    .map((state) => `${name} ${state}`);
}

test('no field of a form is held by its component alone', () => {
  assert.ok(sources.length > 80);
  const found = sources.flatMap((name) => statesInFields(name, readFileSync(`frontend/${name}`, 'utf8')));
  assert.deepEqual(
    found.filter((one) => !NO_FORM.has(one)),
    [],
  );
});

test('one that is is noticed', () => {
  const planted = 'const [reason, setReason] = useState(\'\');\n<TextField label="Why" value={reason} onInput={setReason} />';
  assert.deepEqual(statesInFields('features/x.tsx', planted), ['features/x.tsx reason']);
});
