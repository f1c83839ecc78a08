/** Invented results for tests: what is not given is left empty. */
import { resultFormat, type Choice, type Message, type Quantity, type Result } from '../../lib/model.gen';

/** A message that says this. */
export function saying(text: string, code = 'test'): Message {
  return { code, text };
}

/** A result of which only these parts matter. Others are there as far as a screen can not do without them. */
export function resultWith(parts: Partial<Result>): Result {
  const result: Partial<Result> = {
    format: resultFormat,
    engine: '1',
    catalogue: '1',
    rules: 'abc',
    level: 'accompanied',
    message: saying('Sentence.'),
    gates: [],
    effects: [],
    domains: [],
    costs: [],
    items: [],
    quantities: [],
    control: { indoors: 'unknown', outdoors: 'unknown', message: saying('') },
    reasons: [],
    classes: [],
    choices: [],
    notes: [],
    ...parts,
  };
  return result as Result;
}

/** A measured force at the chin, unless said otherwise. */
export function quantityOf(name: string, direction: string, value: number | undefined, more: Partial<Quantity> = {}): Quantity {
  return {
    name,
    site: 'chin',
    ...(direction === '' ? {} : { direction }),
    ...(value === undefined ? {} : { value }),
    unit: 'gf',
    origin: value === undefined ? 'missing' : 'measured',
    ...more,
  };
}

/** A control at the chin that works everywhere, unless said otherwise. */
export function choiceOf(control: string, more: Partial<Choice> = {}): Choice {
  return { control, site: 'chin', indoors: 'feasible', outdoors: 'feasible', messages: [], reasons: [], ...more };
}
