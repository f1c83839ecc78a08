/** A visit's result as it is kept on the tablet, and the level it stands for. */
import { sha256, toBytes } from '../bytes';
import { parseResult, type ResultView } from '../engine/result';
import { visitText } from '../engine/visit-text';
import type { Visit } from '../model.gen';
import * as v from '../schema';
import type { Standing } from './snapshot';

const resultSchema = v.object({
  /** SHA-256 of the visit text that it is the result of. */
  state: v.string,
  text: v.string,
  by: v.literal('tablet', 'server'),
  /** The server computed something else than this tablet for the same state. */
  differs: v.boolean,
});
export type StoredResult = v.Infer<typeof resultSchema>;

export function readStoredResult(value: unknown): StoredResult | undefined {
  return v.tryParse(resultSchema, value);
}

/** Names the visit as the engine sees it; two equal states have one result. */
export function stateOf(visit: Visit): Promise<string> {
  return sha256(toBytes(visitText(visit)));
}

/** Null when the text is not a result that this version can read. */
export function resultView(text: string): ResultView | null {
  try {
    return parseResult(text);
  } catch {
    return null;
  }
}

export function standingOfResult(result: StoredResult, view = resultView(result.text)): Standing {
  return { level: view?.level ?? '', interim: view?.interim ?? false, provisional: result.by !== 'server' };
}
