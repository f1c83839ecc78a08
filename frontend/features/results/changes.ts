/** What would lead to a higher level: at most three things to do, each with where it is done. */
import type { Task } from '../../ui/pictures/task-picture';
import { controlOf, inUse } from '../../ui/result/three-controls';
import type { Titles } from '../../ui/result/titles';
import { siteWords } from '../../ui/sites';
import { findItem, itemLink, links } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Definition } from '../../lib';
import type { Result, Step, Visit } from '../../lib/model.gen';

/** One thing that would change the level. */
export interface Change {
  readonly key: string;
  readonly picture: { readonly task: Task } | { readonly control: string };
  readonly title: string;
  readonly text: string;
  readonly button: string;
  readonly href: string;
}

const shown = 3;
/** What a condition about the control is decided by, such as force; nothing where another condition decides. */
function decidedBy(result: Result): string {
  const why = result.aloud?.args?.why;
  return typeof why === 'string' ? why : '';
}

const aboutControls = new Set(['force', 'travel', 'noise', 'release', 'hold', 'pain', 'wet', 'helper', 'grading', 'control']);

/** Another control, where the one in use is what stands in the way. */
function otherControl(result: Result, visit: Visit): readonly Change[] {
  if (!aboutControls.has(decidedBy(result))) return [];
  const best = result.choices.find((one) => one.role === 'main' && !inUse(one, visit));
  if (!best) return [];
  const { kind, name } = controlOf(best, visit);
  const force = best.reasons.find((reason) => reason.rule === 'force') ?? best.reasons[0];
  return [
    {
      key: 'control',
      picture: { control: kind },
      title: `${name}, ${siteWords(best.site)}`,
      text: sentenceOf(force?.message),
      button: 'Set up a trial',
      href: links.setup(visit.id),
    },
  ];
}

/** Support of the limb, which often is the cheapest change where force is short. */
function support(result: Result, visit: Visit): readonly Change[] {
  if (decidedBy(result) !== 'force') return [];
  return [
    {
      key: 'support',
      picture: { task: 'support' },
      title: 'Hold the limb up',
      text: 'Support often adds force. Measure the weak direction before and after.',
      button: 'Measure again',
      href: links.measure(visit.id, 'force'),
    },
  ];
}

interface Doing {
  readonly task: Task;
  readonly title?: string;
  readonly button: string;
  readonly href?: (visit: string) => string;
}

const answer: Doing = { task: 'answer', button: 'Answer it' };
const measure: Doing = { task: 'measure', button: 'Measure it' };

/** What each kind of step asks to be done, by the code of its message; others are answered. */
const doings: Readonly<Record<string, Doing>> = {
  'readiness.step-setup': { task: 'answer', title: 'Control and place', button: 'Choose them', href: links.setup },
  'readiness.step-stop': { task: 'stop', title: 'A separate stop', button: 'Show that it works' },
  'readiness.step-control': { task: 'measure', title: 'This control', button: 'Look at the control', href: links.controls },
  'readiness.step-hold': { task: 'measure', title: 'Hold longer', button: 'Time it again', href: (id) => links.measure(id, 'hold') },
  'readiness.step-readings': { task: 'measure', title: 'More readings', button: 'Measure force', href: (id) => links.measure(id, 'force') },
  'readiness.step-drive': { task: 'drive', title: 'Drive once more', button: 'Go to the trial', href: links.trial },
  'readiness.step-outdoors': { task: 'drive', title: 'More outdoors', button: 'Go to the questions' },
  'readiness.step-teach': { task: 'teach', title: 'Teach a helper', button: 'Note what was shown' },
  'readiness.step-limits': { task: 'write', title: 'Write the limits down', button: 'Write them' },
  'readiness.step-known-computed': measure,
  'readiness.step-untested-computed': measure,
  'readiness.step-computed': measure,
};

function changeOf(step: Step, visit: Visit, checklist: Definition, titles: Titles): Change {
  // What is computed is measured: nothing can be answered there.
  const computed = findItem(checklist, step.item ?? '')?.item.from !== undefined;
  const doing = doings[step.message.code] ?? (computed ? measure : answer);
  const item = step.item ? titles.item(step.item)?.title : undefined;
  return {
    key: `${step.item ?? ''} ${step.message.code} ${sentenceOf(step.message)}`,
    picture: { task: doing.task },
    title: (doing === answer || doing === measure ? item : (doing.title ?? item)) ?? 'Go on here',
    text: sentenceOf(step.message),
    button: doing.button,
    href: doing.href?.(visit.id) ?? itemLink(visit.id, checklist, step.item ?? '') ?? links.missing(visit.id),
  };
}

/** The first three things to do, and how many more there are. */
export function changesOf(
  result: Result,
  visit: Visit,
  checklist: Definition,
  titles: Titles,
): { readonly first: readonly Change[]; readonly rest: readonly Change[] } {
  const steps = (result.up ?? []).map((step) => changeOf(step, visit, checklist, titles));
  const all = [...otherControl(result, visit), ...support(result, visit), ...steps];
  return { first: all.slice(0, shown), rest: all.slice(shown) };
}
