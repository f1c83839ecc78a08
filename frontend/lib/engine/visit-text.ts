import type { Answer, Given, Override, Reading, RunTimed, Setup, Visit } from '../model.gen';
import { homeLines } from './home-text';
import { flag, line, orDash, shortest } from './text-line';

export { shortest } from './text-line';

/**
 * A visit as the engine reads it: one statement a line, TAB between fields, no
 * free text and no names, so nothing needs escaping. Slips are left out, and
 * what is due again because a setting was changed since. The server writes the same
 * bytes from the same visit; shared vectors hold the two together.
 */
export function visitText(visit: Visit): string {
  const lines = ['doorsill-visit\t1'];
  if (visit.setup) lines.push(setupLine(visit.setup), ...switchLines(visit.setup));
  lines.push(...homeLines(visit));
  for (const answer of visit.answers) lines.push(...answerLines(answer));
  for (const reading of visit.readings) {
    if (!reading.slip && !reading.due) lines.push(readingLine(reading));
  }
  for (const run of visit.runs) {
    if (!run.slip) lines.push(runLine(run));
  }
  if (visit.override) lines.push(overrideLine(visit.override));
  return `${lines.join('\n')}\n`;
}

const directions = ['forward', 'reverse', 'left', 'right'] as const;
const wholeTravel = 100;

function setupLine(setup: Setup): string {
  const throws = directions.map((direction) => shortest(setup.throw?.[direction] ?? wholeTravel));
  return line(
    'setup',
    setup.class,
    setup.site,
    shortest(setup.start_gf),
    shortest(setup.operate_gf),
    shortest(setup.travel_mm),
    ...throws,
    orDash(setup.needed.join(',')),
    shortest(setup.switch_press_gf ?? 0),
  );
}

/** The forces of switches that have one of their own. */
function switchLines(setup: Setup): readonly string[] {
  const own = [
    ['power', setup.power_press_gf ?? 0],
    ['mode', setup.mode_press_gf ?? 0],
  ] as const;
  return own.flatMap(([purpose, force]) => (force > 0 ? [line('switch', purpose, shortest(force))] : []));
}

/** One line a head: while two answers wait for a choice the engine sees both. */
function answerLines(answer: Answer): readonly string[] {
  return answer.heads.filter((head) => !head.due).map((head) => line('item', answer.item, head.state, valueField(head), factsField(head)));
}

function valueField(head: Given): string {
  if (head.level) return head.level;
  if (head.number !== undefined) return shortest(head.number);
  if (head.left !== undefined || head.right !== undefined) return `${side(head.left)}/${side(head.right)}`;
  return '-';
}

function side(value: number | undefined): string {
  return value === undefined ? '-' : shortest(value);
}

function factsField(head: Given): string {
  const facts = Object.entries(head.facts ?? {}).sort(([a], [b]) => (a < b ? -1 : 1));
  return orDash(facts.map(([fact, on]) => `${fact}=${flag(on)}`).join(','));
}

function readingLine(reading: Reading): string {
  return line(
    'reading',
    reading.switch ? `switch-${reading.switch}` : reading.what,
    reading.site,
    orDash(reading.direction),
    reading.state,
    flag(reading.supported),
    shortest(reading.value),
    orDash(reading.unit),
    flag(reading.missed),
  );
}

/** One run as the engine reads it. */
export function runLine(run: RunTimed): string {
  const counts = [run.seconds, run.metres, run.things, run.people, run.prompts, run.rescues, run.unmeant, run.presses];
  return line('run', run.place, run.state, ...counts.map(shortest));
}

function overrideLine(override: Override): string {
  const length = [...trim(override.text)].length;
  return line(
    'override',
    override.level,
    orDash(override.reason),
    shortest(length),
    flag(trim(override.mitigation ?? '') !== ''),
    flag(trim(override.agreed ?? '') !== ''),
    shortest(dayOf(override.from)),
    shortest(dayOf(override.until)),
  );
}

/** Spaces, tabs and line ends off both ends, and nothing else: the server does the same. */
function trim(text: string): string {
  return text.replace(/^[ \t\r\n]+|[ \t\r\n]+$/g, '');
}

const dayMilliseconds = 86_400_000;

/** Days since 1970-01-01, or -1 when there is no such date. */
function dayOf(date: string | undefined): number {
  if (!date || !/^\d{4}-\d{2}-\d{2}$/.test(date)) return -1;
  const time = Date.parse(`${date}T00:00:00Z`);
  const real = !Number.isNaN(time) && new Date(time).toISOString().startsWith(date);
  return real ? time / dayMilliseconds : -1;
}
