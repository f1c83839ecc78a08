/**
 * Which log the positions here are of. A server that was restored goes on in
 * another one, which begins with what the copy had: up to there both are the same.
 */
import type { EarlierLog, Logs } from '../model.gen';
import * as v from '../schema';
import type { MetaRow } from './rows';

/** The key of the logs that the present one was restored from. */
export const EARLIER = 'earlier';

const earlierLogs = v.list(v.object({ log: v.nonEmpty, until: v.count }));

export function earlierRow(earlier: readonly EarlierLog[] | undefined): MetaRow {
  return { key: EARLIER, text: JSON.stringify(earlier ?? []) };
}

/** Of an earlier log that is not known, nothing counts that was seen in it. */
export function readLogs(log: MetaRow | undefined, earlier: MetaRow | undefined): Logs {
  return { log: log?.text ?? '', earlier: readEarlier(earlier?.text ?? '') };
}

function readEarlier(text: string): readonly EarlierLog[] {
  try {
    return v.tryParse(earlierLogs, JSON.parse(text)) ?? [];
  } catch {
    return [];
  }
}
