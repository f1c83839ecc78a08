/** The controls that matter first, each with its force against what it asks. */
import type { ComponentChildren } from 'preact';
import { classLabel } from '../control-classes';
import { useLimits } from '../limits';
import { ControlPicture } from '../pictures/control-picture';
import { siteWords } from '../sites';
import { Term } from '../term';
import { numberWords } from '../words';
import type { Choice, Message, MessageArg, Result, Visit } from '../../lib/model.gen';

const generic = 'class:';

/** The class of a control of a result, and its name. */
export function controlOf(choice: Choice, visit: Visit): { readonly kind: string; readonly name: string } {
  if (choice.control.startsWith(generic)) {
    const kind = choice.control.slice(generic.length);
    return { kind, name: classLabel(kind) };
  }
  const packed = visit.kit?.find((one) => one.id === choice.control);
  return { kind: packed?.class ?? '', name: packed?.name ?? 'A control that is no longer packed' };
}

/** Whether a choice is the control that the visit is set up with, at its site. */
export function inUse(choice: Choice, visit: Visit): boolean {
  const { setup } = visit;
  if (!setup || setup.site !== choice.site) return false;
  const { kind, name } = controlOf(choice, visit);
  return choice.control.startsWith(generic) ? setup.control === '' && kind === setup.class : name === setup.control;
}

/** The three that matter: first choice, fallback, the one in use, then the order of choice and what else was judged at the site. */
export function threeControls(result: Result, visit: Visit): readonly Choice[] {
  const last = Number.MAX_SAFE_INTEGER;
  const weight = (one: Choice) => {
    if (one.role === 'main') return 0;
    if (inUse(one, visit)) return 1;
    if (one.role === 'fallback') return 2;
    return one.rank !== undefined ? 2 + one.rank : last;
  };
  const here = (one: Choice) => (one.site === visit.setup?.site ? 0 : 1);
  return result.choices
    .filter((one) => one.reserve !== undefined)
    .sort((a, b) => weight(a) - weight(b) || here(a) - here(b) || (b.reserve ?? 0) - (a.reserve ?? 0))
    .slice(0, 3);
}

function isMessage(arg: MessageArg | undefined): arg is Message {
  return typeof arg === 'object' && arg !== null && 'code' in arg;
}

/** The figures behind the reason about force: what is asked, and the word for what is left. */
function forceOf(choice: Choice): { readonly asked: number | null; readonly word: string; readonly direction: string } {
  const said = choice.reasons.find((reason) => reason.rule === 'force')?.message;
  const args = isMessage(said?.args?.mean) ? said.args.mean.args : said?.args;
  const asked = args?.asked;
  return {
    asked: typeof asked === 'number' ? asked : null,
    word: typeof args?.word === 'string' ? args.word : '',
    direction: typeof args?.direction === 'string' ? args.direction : '',
  };
}

const words: Readonly<Record<string, string>> = {
  short: 'Too tight',
  tight: 'Tight',
  workable: 'Enough',
  roomy: 'Plenty',
  'over-light': 'Far more than needed',
};

/** How far the bar goes: beyond this many times it is full. */
const most = 10;
const wide = 300;
const at = (times: number) => (Math.min(times, most) / most) * wide;

/** The bar, dark as far as it counts; hatched and with a bracket where it falls short of the least. */
function Bar(props: { readonly reserve: number; readonly marks: readonly number[] }) {
  const { reserve, marks } = props;
  const short = reserve < (marks[0] ?? 0);
  const end = at(reserve);
  return (
    <svg class="reserve-bar" viewBox={`-6 0 ${wide + 12} 44`} aria-hidden="true" focusable="false" preserveAspectRatio="none">
      <defs>
        <pattern id="reserve-hatch" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="reserve-hatch" d="M0 0V8" />
        </pattern>
      </defs>
      <rect class="reserve-ground" x="0" y="12" width={wide} height="20" rx="3" />
      <rect class={short ? 'reserve-short' : 'reserve-enough'} x="0" y="12" width={Math.max(end, 2)} height="20" rx="3" />
      {marks.map((mark) => (
        <path key={mark} class="reserve-mark" d={`M${at(mark)} 5V39`} />
      ))}
      {short ? (
        <>
          <path class="door-bar" d={`M${end - 3} 4H${end + 5}V40H${end - 3}Z`} />
          <path class="reserve-bracket" d={`M${end - 7} 5h16M${end - 7} 39h16`} />
        </>
      ) : null}
    </svg>
  );
}

function Row(props: { readonly choice: Choice; readonly visit: Visit; readonly marks: readonly number[] }) {
  const { choice, visit, marks } = props;
  const { kind, name } = controlOf(choice, visit);
  const { asked, word, direction } = forceOf(choice);
  const reserve = choice.reserve ?? 0;
  const asides = [
    asked === null ? '' : `asks ${numberWords(asked, 0)} gf`,
    siteWords(choice.site),
    inUse(choice, visit) ? 'in use now' : choice.role === 'main' ? 'first choice' : choice.role === 'fallback' ? 'fallback' : '',
  ].filter((part) => part !== '');
  return (
    <li class={inUse(choice, visit) ? 'reserve-row reserve-row-used' : 'reserve-row'}>
      <ControlPicture kind={kind} />
      <span class="reserve-name">
        <strong>{name}</strong>
        <span>{asides.join(', ')}</span>
      </span>
      <Bar reserve={reserve} marks={marks} />
      <span class="reserve-times">
        <strong>{numberWords(reserve, 1)}</strong> times
      </span>
      <span class="reserve-word">
        {words[word] ?? ''}
        {direction === '' ? '' : <span class="unseen">, weakest {direction}</span>}
      </span>
    </li>
  );
}

/** The three as rows of one drawing. */
export function ThreeControls(props: { readonly result: Result; readonly visit: Visit; readonly more?: ComponentChildren }) {
  const { result, visit } = props;
  const limits = useLimits();
  const marks = ['reserve-tight', 'reserve-workable', 'reserve-roomy'].flatMap((id) => limits?.get(id) ?? []);
  const three = threeControls(result, visit);
  if (three.length === 0) return <p>Measure force in every direction that is needed; then controls can be set side by side here.</p>;
  return (
    <>
      <p class="reserve-key">
        Force when tired, <Term id="weakest-direction">weakest direction</Term>, in times of what the control asks: the{' '}
        <Term id="reserve">reserve</Term>. Lines: {marks.map((mark, i) => `${mark} ${['least', 'enough', ''][i] ?? ''}`).join(', ')}
        <Term id="all-day">all day</Term>.
      </p>
      <ul class="reserve-rows">
        {three.map((choice) => (
          <Row key={`${choice.control} ${choice.site}`} choice={choice} visit={visit} marks={marks} />
        ))}
      </ul>
      {props.more}
    </>
  );
}
