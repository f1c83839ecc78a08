/** A result's verdicts on controls, put in order for reading. */
import { VERDICT_WORDS, verdictOf, type Verdict } from '../../ui/result/words';
import { sentenceOf } from '../../ui/words';
import type { Choice, Reason, Result } from '../../lib/model.gen';

/** Sites that controls were judged at, in the engine's order. */
export function judgedSites(result: Result): readonly string[] {
  return [...new Set(result.choices.map((one) => one.site))];
}

const LAST = Number.MAX_SAFE_INTEGER;

/** Everything that was judged at a site, the order of choice first. */
export function judgedAt(result: Result, site: string): readonly Choice[] {
  return result.choices.filter((one) => one.site === site).sort((a, b) => (a.rank ?? LAST) - (b.rank ?? LAST));
}

/** The order of choice over all sites: main choice, fallback and what follows. */
export function inOrder(result: Result): readonly Choice[] {
  return result.choices.filter((one) => one.rank !== undefined).sort((a, b) => (a.rank ?? LAST) - (b.rank ?? LAST));
}

const BAD_FIRST: readonly Verdict[] = ['not-feasible', 'unknown', 'marginal', 'feasible'];

/** The worse of the two verdicts of one control. */
export function worseOf(choice: Choice): Verdict {
  const both = [verdictOf(choice.indoors), verdictOf(choice.outdoors)];
  return BAD_FIRST.find((one) => both.includes(one)) ?? 'unknown';
}

/** What "unknown" means for this control: too little was measured, unless the base forbids any verdict. */
export function unknownWords(choice: Choice): string {
  return choice.reasons.some((why) => why.rule === 'base' && why.verdict === 'unknown') ? 'not known yet' : 'not enough measured';
}

/** What is said of a choice, in one paragraph. */
export function choiceWords(choice: Choice): string {
  return choice.messages.map(sentenceOf).join(' ');
}

/** How many controls of a site have each verdict, as one line. */
export function countLine(list: readonly Choice[]): string {
  const count = (verdict: Verdict) => list.filter((one) => worseOf(one) === verdict).length;
  const said = (
    [
      ['feasible', VERDICT_WORDS.feasible],
      ['marginal', VERDICT_WORDS.marginal],
      ['not-feasible', VERDICT_WORDS['not-feasible']],
      ['unknown', 'not enough measured'],
    ] as const
  )
    .map(([verdict, words]) => [count(verdict), words] as const)
    .filter(([n]) => n > 0);
  return said.length === 0 ? 'nothing judged' : said.map(([n, words]) => `${words}: ${n}`).join(', ');
}

/** What stands first of a control at a site: three lines, and what is left for below. */
export interface ChoiceLines {
  /** How good it is: the reason that decides, or what is said of the force where nothing stands against it. */
  readonly how: Reason | undefined;
  /** What to do next about it, empty where there is nothing. */
  readonly next: string;
  readonly rest: readonly Reason[];
}

/** The reason that decides comes first, and what would change it is what comes next. */
export function linesOf(choice: Choice): ChoiceLines {
  const against = choice.reasons.find((why) => verdictOf(why.verdict) !== 'feasible');
  const how = against ?? choice.reasons.find((why) => why.rule === 'force') ?? choice.reasons[0];
  const next = against ?? choice.reasons.find((why) => sentenceOf(why.change) !== '');
  return { how, next: sentenceOf(next?.change), rest: choice.reasons.filter((why) => why !== how) };
}
