/** A result's verdicts on controls, put in order for reading. */
import type { KitVerdict, ResultView, Verdict, Why } from '../../lib/engine/result';

export interface Judged {
  readonly verdict: KitVerdict;
  /** As the engine ordered them, the worst first. */
  readonly whys: readonly Why[];
}

/** Sites that controls were judged at, in the engine's order. */
export function judgedSites(result: ResultView): readonly string[] {
  return [...new Set(result.verdicts.map((one) => one.site))];
}

function withWhys(result: ResultView, verdict: KitVerdict): Judged {
  return { verdict, whys: result.whys.filter((why) => why.control === verdict.control && why.site === verdict.site) };
}

const LAST = Number.MAX_SAFE_INTEGER;

/** Everything that was judged at a site, the order of choice first. */
export function judgedAt(result: ResultView, site: string): readonly Judged[] {
  return result.verdicts
    .filter((one) => one.site === site)
    .sort((a, b) => (a.rank ?? LAST) - (b.rank ?? LAST))
    .map((verdict) => withWhys(result, verdict));
}

/** The order of choice over all sites: main choice, fallback and what follows. */
export function inOrder(result: ResultView): readonly Judged[] {
  return result.verdicts
    .filter((one) => one.rank !== null)
    .sort((a, b) => (a.rank ?? LAST) - (b.rank ?? LAST))
    .map((verdict) => withWhys(result, verdict));
}

const BAD_FIRST: readonly Verdict[] = ['not-feasible', 'unknown', 'marginal', 'feasible'];

/** The worse of the two verdicts of one control. */
export function worseOf(verdict: KitVerdict): Verdict {
  return BAD_FIRST.find((one) => one === verdict.indoors || one === verdict.outdoors) ?? 'unknown';
}

/** What "unknown" means for this control: too little was measured, unless the base forbids any verdict. */
export function unknownWords(judged: Judged): string {
  return judged.whys.some((why) => why.rule === 'base' && why.verdict === 'unknown') ? 'no verdict yet' : 'not enough measured';
}

/** How many controls of a site have each verdict, as one line. */
export function countLine(list: readonly Judged[]): string {
  const count = (verdict: Verdict) => list.filter((one) => worseOf(one.verdict) === verdict).length;
  const said = (
    [
      ['feasible', 'feasible'],
      ['marginal', 'marginal'],
      ['not-feasible', 'not feasible'],
      ['unknown', 'not enough measured'],
    ] as const
  )
    .map(([verdict, words]) => [count(verdict), words] as const)
    .filter(([n]) => n > 0);
  return said.length === 0 ? 'nothing judged' : said.map(([n, words]) => `${n} ${words}`).join(', ');
}
