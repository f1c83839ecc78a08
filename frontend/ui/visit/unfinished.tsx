import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { counters } from '../../lib/counters';
import { formDrafts } from '../../lib/form-drafts';
import { elapsedOf } from '../../lib/trial/clock';
import { countNamed } from '../../lib/trial/counter';
import { steadyNow } from '../../lib/trial/moment';
import { isBegun, nextTrial, tallies, type TrialDraft } from '../../lib/trial/trial-draft';
import { trials } from '../../lib/trials';
import { Button } from '../button';
import { clockWords } from '../stopwatch';
import { tellKept } from '../toast';
import { links } from './links';

/** What was begun in a visit and is no entry of it: to be saved or thrown away before it is signed. */
export interface Unfinished {
  readonly key: string;
  readonly title: string;
  /** Where it can be saved. */
  readonly href: string;
  /** What stands there, where words say it. */
  readonly text: string;
  /** A clock of it runs. */
  readonly runs: boolean;
  readonly drop: () => void;
  readonly undo: () => void;
}

function runOf(visit: string): Unfinished | undefined {
  const { draft } = trials.of(visit).value;
  if (!isBegun(draft)) return undefined;
  const counted = tallies.reduce((sum, name) => sum + draft.counts[name], 0);
  const set = (to: TrialDraft) => trials.change(visit, () => to);
  return {
    key: 'run',
    title: 'A run of the driving trial',
    href: links.trial(visit),
    text: `${clockWords(elapsedOf(draft.clock, steadyNow()))}, ${counted} counted`,
    runs: draft.clock.since !== null,
    drop: () => set(nextTrial(draft)),
    undo: () => set(draft),
  };
}

/** What stands in a draft, in words where it has any, and whether a clock of it runs. */
function stateOf(about: string, draft: string, value: unknown): Pick<Unfinished, 'text' | 'runs'> {
  const name = countNamed(draft);
  if (name === undefined) return { text: typeof value === 'string' ? value : '', runs: false };
  const { clock, taps } = counters.of({ about, name, title: '' }).count;
  const time = elapsedOf(clock, steadyNow());
  const parts = [...(time > 0 ? [clockWords(time)] : []), ...(taps.length > 0 ? [`${taps.length} counted`] : [])];
  return { text: parts.join(', '), runs: clock.since !== null };
}

/** Counts what is looked at anew while a clock runs. */
const looks = signal(0);

/** What was begun in a visit, but for what is typed at one address. */
export function unfinishedOf(visit: string, but = ''): readonly Unfinished[] {
  void looks.value;
  const typed = formDrafts.begun().flatMap(({ about, name, path, title, value, before }): Unfinished[] => {
    if (about !== visit || path === but) return [];
    return [
      {
        key: name,
        title: title ?? '',
        href: path ?? links.map(visit),
        ...stateOf(visit, name, value),
        drop: () => formDrafts.put(visit, name, undefined),
        undo: () => formDrafts.put(visit, name, { value, before, title, path }),
      },
    ];
  });
  const run = runOf(visit);
  return run === undefined ? typed : [run, ...typed];
}

/** What was begun, each with the way to where it is saved and a button that throws it away. */
export function UnfinishedList(props: { readonly list: readonly Unfinished[]; readonly within: string }) {
  const running = props.list.some((one) => one.runs);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => {
      looks.value += 1;
    }, 1_000);
    return () => clearInterval(timer);
  }, [running]);
  return (
    <ul class="plain-list">
      {props.list.map((one) => (
        <li key={one.key}>
          <a class="link-row" href={one.href}>
            {one.title}
          </a>
          {one.runs ? ' (the clock runs)' : ''}
          {one.text === '' ? null : <p class="answer-fixed">{one.text}</p>}
          <Button
            kind="quiet"
            label={`Throw away: ${one.title}`}
            onPress={() => {
              one.drop();
              const undo = () => Promise.resolve(one.undo());
              tellKept({ how: 'Thrown away', what: one.title, within: props.within, undo });
            }}
          >
            Throw away
          </Button>
        </li>
      ))}
    </ul>
  );
}
