import type { Answer, Given, Override, Reading, Run, Setup, Visit } from '../model.gen';

/**
 * A visit as the engine reads it: one statement a line, TAB between fields, no
 * free text and no names, so nothing needs escaping. The server writes the same
 * bytes from the same visit; shared vectors hold the two together.
 */
export function visitText(visit: Visit): string {
  const lines = ['doorsill-visit\t1'];
  if (visit.setup) lines.push(setupLine(visit.setup));
  for (const answer of visit.answers) lines.push(...answerLines(answer));
  for (const reading of visit.readings) {
    if (!reading.slip) lines.push(readingLine(reading));
  }
  for (const run of visit.runs) lines.push(runLine(run));
  if (visit.override) lines.push(overrideLine(visit.override));
  return `${lines.join('\n')}\n`;
}

const directions = ['forward', 'reverse', 'left', 'right'] as const;
const wholeTravel = 100;

function line(...fields: readonly string[]): string {
  return fields.join('\t');
}

function orDash(text: string | undefined): string {
  return text ? text : '-';
}

function flag(on: boolean | undefined): string {
  return on ? '1' : '0';
}

/** The shortest decimal that reads back as the same number, never with an exponent. */
export function shortest(value: number): string {
  const text = String(value);
  const parts = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (!parts) return Object.is(value, -0) ? '0' : text;
  const [, sign = '', lead = '', rest = '', power = '0'] = parts;
  const digits = lead + rest;
  const point = 1 + Number(power);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return `${sign}${digits.padEnd(point, '0')}`;
}

function setupLine(setup: Setup): string {
  const throws = directions.map((direction) => shortest(setup.throw?.[direction] ?? wholeTravel));
  return line(
    'setup', orDash(setup.class), orDash(setup.site),
    shortest(setup.start_gf), shortest(setup.operate_gf), shortest(setup.travel_mm),
    ...throws, orDash(setup.needed.join(',')), shortest(setup.switch_press_gf ?? 0),
  );
}

/** One line a head: while two answers wait for a choice the engine sees both. */
function answerLines(answer: Answer): readonly string[] {
  return answer.heads.map((head) => line('item', answer.item, head.state, valueField(head), factsField(head)));
}

function valueField(head: Given): string {
  if (head.level) return head.level;
  if (head.number !== undefined) return shortest(head.number);
  if (head.left !== undefined || head.right !== undefined) return `${shortest(head.left ?? 0)}/${shortest(head.right ?? 0)}`;
  return '-';
}

function factsField(head: Given): string {
  const facts = Object.entries(head.facts ?? {}).sort(([a], [b]) => (a < b ? -1 : 1));
  return orDash(facts.map(([fact, on]) => `${fact}=${flag(on)}`).join(','));
}

function readingLine(reading: Reading): string {
  return line(
    'reading', reading.what, orDash(reading.site), orDash(reading.direction), reading.state,
    flag(reading.supported), shortest(reading.value), reading.unit, flag(reading.missed),
  );
}

function runLine(run: Run): string {
  const counts = [run.seconds, run.metres, run.things, run.people, run.prompts, run.rescues, run.unmeant, run.presses];
  return line('run', run.place, run.state, ...counts.map(shortest));
}

function overrideLine(override: Override): string {
  const length = [...override.text.trim()].length;
  return line(
    'override', override.level, override.reason, shortest(length),
    flag(Boolean(override.mitigation?.trim())), flag(Boolean(override.agreed?.trim())),
    shortest(dayOf(override.from)), shortest(dayOf(override.until)),
  );
}

const dayMilliseconds = 86_400_000;

/** Days since 1970-01-01, or -1 when there is no date. */
function dayOf(date: string | undefined): number {
  if (!date) return -1;
  const time = Date.parse(`${date}T00:00:00Z`);
  return Number.isNaN(time) ? -1 : time / dayMilliseconds;
}
