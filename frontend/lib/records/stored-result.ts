/** The server's result of a visit as it is kept on the tablet. This tablet's own is computed with each fold. */
import { result } from '../api/schemas';
import { sha256, toBytes } from '../bytes';
import type { Result, Visit } from '../model.gen';
import * as v from '../schema';
import type { Standing } from './snapshot';

const resultSchema = v.object({
  /** Names the visit that it is the result of; see stateOf. */
  state: v.string,
  /** With its sentences. */
  result,
  /** SHA-256 of its canonical form. */
  sha256: v.string,
  /** This tablet computed something else for the same state. */
  differs: v.boolean,
});
export type StoredResult = v.Infer<typeof resultSchema>;

/** Undefined also for what earlier versions kept as text. */
export function readStoredResult(value: unknown): StoredResult | undefined {
  return v.tryParse(resultSchema, value);
}

/** Names the visit as it stands, wherever its entries are in a log: two equal states have one result. */
export function stateOf(visit: Visit): Promise<string> {
  return sha256(toBytes(JSON.stringify(inOrder(visit))));
}

/** Whether two results say the same, whoever computed them. */
export function sameResult(a: Result, b: Result): boolean {
  return a === b || JSON.stringify(inOrder(a)) === JSON.stringify(inOrder(b));
}

function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  const fields = Object.entries(value).filter(([key]) => key !== 'pos');
  return Object.fromEntries(fields.sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, one]) => [key, inOrder(one)]));
}

export function standingOfResult({ level, interim }: Result, provisional: boolean): Standing {
  return { level, interim: interim ?? false, provisional };
}
