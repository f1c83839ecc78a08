/** Loads of a result by control and site, and what a number rests on. */
import { figuresOf } from '../../ui/result/figures';
import type { Load, Message, MessageArg, Provenance, Quantity, Result } from '../../lib/model.gen';

export interface LoadGroup {
  readonly control: string;
  readonly site: string;
  readonly loads: readonly Load[];
}

/** Loads together that belong together, in the engine's order. */
export function loadGroups(result: Result): readonly LoadGroup[] {
  const groups = new Map<string, Load[]>();
  for (const load of result.loads ?? []) {
    const key = `${load.control}\t${load.site}`;
    groups.set(key, [...(groups.get(key) ?? []), load]);
  }
  return [...groups.values()].flatMap((loads) => (loads[0] ? [{ control: loads[0].control, site: loads[0].site, loads }] : []));
}

const STRAIN = /^(hold-time|hold-share|limit-|strain|duty|hour|exposure)/;

/** Strain figures that stand under no load, such as an index for a whole site. */
export function looseFigures(result: Result): readonly Quantity[] {
  return figuresOf(result).filter((figure) => STRAIN.test(figure.name));
}

/** Whether a number was taken over from another part of the body, or from other work. */
export function isBorrowed(figure: Quantity, provenance: Provenance | undefined): boolean {
  return provenance?.borrowed === true || (figure.message !== undefined && tells(figure.message, 'endurance.curve-borrowed'));
}

/** Whether a message is the one with this code, or has it inside. */
function tells(message: Message, code: string): boolean {
  return message.code === code || Object.values(message.args ?? {}).some((arg) => messagesIn(arg).some((inner) => tells(inner, code)));
}

function messagesIn(arg: MessageArg): readonly Message[] {
  return [arg].flat().filter((one): one is Message => typeof one === 'object' && one !== null);
}

/** The day so many weeks after another, 2006-01-02. */
export function weeksAfter(at: string, weeks: number): string {
  const time = new Date(at);
  time.setUTCDate(time.getUTCDate() + 7 * weeks);
  return Number.isNaN(time.getTime()) ? '' : time.toISOString().slice(0, 10);
}
