/** In which order a client's visits are shown, whatever the clocks said. */
import { serverLimits } from '../model.gen';

interface Dated {
  readonly startedAt: string;
  /** Where its start stands in the server's log, 0 while it waits. */
  readonly place: number;
}

/**
 * Newest first, by the tablets' own times: a visit of Monday that was sent on
 * Friday is older than one of Wednesday. A start that lies in the future comes
 * from a clock that was off; it counts as no later than what the log has before it.
 */
export function newestFirst<T extends Dated>(visits: readonly T[], now: Date): T[] {
  const end = now.getTime() + serverLimits.clockSkewMs;
  const inLog = [...visits].sort(
    (a, b) => (a.place || Infinity) - (b.place || Infinity) || Date.parse(a.startedAt) - Date.parse(b.startedAt),
  );
  let latest = -Infinity;
  const dated = inLog.map((visit, order) => {
    const said = Date.parse(visit.startedAt);
    const at = said > end ? latest : said;
    latest = Math.max(latest, at);
    return { visit, at, order };
  });
  return dated.sort((a, b) => (a.at === b.at ? b.order - a.order : b.at - a.at)).map(({ visit }) => visit);
}
