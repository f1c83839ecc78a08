/**
 * Copies that only the organisation's key opens. What was signed and has not
 * reached the server lies beside the person's rows a second time, so that a
 * forgotten password loses none of it; and all that waits can be written to a
 * file as a last resort.
 */
import { join, toBytes, toText, type Bytes } from '../bytes';
import { organisationKey, sealEnvelope, type Envelope } from '../crypto/envelope';
import type { EncryptedStore } from '../database/encrypted-store';
import type { PersonDatabase } from '../database/guarded';
import { firmOf } from '../database/receipts';
import { sealedRow, type SealedRow } from '../database/rows';
import { StoreError } from '../errors';
import { serverLimits, type OrganisationKey } from '../model.gen';
import * as v from '../schema';
import { lineOf, MOST_BYTES } from './push';
import { makeTabletKey, tabletKey } from './tablet-key';

export interface SealingDeps {
  readonly store: EncryptedStore;
  readonly person: string;
  readonly tablet: string;
  readonly now: () => Date;
}

const signing: ReadonlySet<string> = new Set(['visit-signed', 'amendment-made']);

interface Line {
  readonly n: number;
  readonly bytes: Bytes;
}

/** The organisation's public key, undefined when the server has not told it yet. */
async function organisationOf(store: EncryptedStore): Promise<OrganisationKey | undefined> {
  return v.tryParse(organisationKey, await store.secret('organisation'));
}

/** Own entries from a number on, as they are sent. */
async function linesFrom(deps: SealingDeps, from: number): Promise<readonly Line[]> {
  const to = await deps.store.number('n');
  const rows = await deps.store.db.read(['events'], (tx) => tx.objectStore('events').index('own').getAll(IDBKeyRange.lowerBound(from)));
  const byNumber = new Map(rows.map((row) => [row.own ?? 0, row]));
  const gone = await deps.store.number('gone');
  const lines: Line[] = [];
  for (let n = from; n <= to; n++) if (n > gone || byNumber.has(n)) lines.push({ n, bytes: await lineOf(deps, n, byNumber.get(n)) });
  return lines;
}

function kindOf(line: Line): string {
  const event = JSON.parse(toText(line.bytes)) as { readonly kind?: unknown };
  return typeof event.kind === 'string' ? event.kind : '';
}

/** Envelopes for lines that follow one another, none larger than a push may be. */
async function envelopesOf(deps: SealingDeps, organisation: OrganisationKey, lines: readonly Line[]): Promise<readonly Envelope[]> {
  const envelopes: Envelope[] = [];
  const sign = (await tabletKey(deps.store))?.sign;
  const newline = toBytes('\n');
  for (let at = 0; at < lines.length;) {
    let [end, size] = [at, 0];
    while (end < lines.length && end - at < serverLimits.envelopeEvents) {
      const next = (lines[end]?.bytes.length ?? 0) + 1;
      if (end > at && (size + next > MOST_BYTES || lines[end]?.n !== (lines[end - 1]?.n ?? 0) + 1)) break;
      size += next;
      end++;
    }
    const part = lines.slice(at, end);
    const head = { tablet: deps.tablet, person: deps.person, from: part[0]?.n ?? 0, to: part.at(-1)?.n ?? 0 };
    envelopes.push(await sealEnvelope(organisation, head, join(part.flatMap((line) => [line.bytes, newline])), sign));
    at = end;
  }
  return envelopes;
}

/** Sealed copies of a tablet; rows that are not what they should be are left out. */
export async function readSealed(db: Pick<PersonDatabase, 'read'>): Promise<readonly SealedRow[]> {
  const rows = await db.read(['sealed'], (tx) => tx.objectStore('sealed').getAll());
  return rows.filter((row) => v.tryParse(sealedRow, row)).sort((a, b) => a.from - b.from);
}

/** The first number after the receipt that no copy covers. */
function firstOpen(ack: number, copies: readonly SealedRow[]): number {
  let next = ack + 1;
  for (const copy of copies) {
    if (copy.from <= next && copy.to >= next) next = copy.to + 1;
  }
  return next;
}

/**
 * Makes the copies that are missing, up to the last signature, and lets go of
 * those that the server has had for thirty days. It can be repeated.
 */
export async function sealSigned(deps: SealingDeps): Promise<void> {
  const { store } = deps;
  await makeTabletKey(store);
  const organisation = await organisationOf(store);
  const [ack, all] = [await store.number('ack'), await readSealed(store.db)];
  const copies = all.filter((one) => one.tablet === deps.tablet);
  const open = organisation === undefined ? [] : await linesFrom(deps, firstOpen(ack, copies));
  const last = open.findLastIndex((line) => signing.has(kindOf(line)));
  const made = organisation === undefined ? [] : await envelopesOf(deps, organisation, open.slice(0, last + 1));
  const firm = firmOf(await store.db.read(['meta'], (tx) => tx.objectStore('meta').getAll()));
  await store.db.write(['sealed'], async (tx) => {
    const sealed = tx.objectStore('sealed');
    for (const one of made) {
      const { tablet, from, to } = one;
      await sealed.put({ key: `${tablet}:${from}-${to}`, tablet, from, to, envelope: JSON.stringify(one) });
    }
    for (const copy of all) {
      if (copy.to <= Math.min(ack, firm.ack)) await sealed.delete(copy.key);
    }
  });
}

/** A file for the organisation, and how many entries are in it. */
export interface OutboxFile {
  readonly name: string;
  readonly text: string;
  readonly entries: number;
}

export function fileOf(envelopes: readonly string[], entries: number, now: Date): OutboxFile {
  return { name: `doorsill-unsent-${now.toISOString().slice(0, 10)}.doorsill`, text: envelopes.map((one) => `${one}\n`).join(''), entries };
}

/** All that waits, sealed: one envelope a line, for "doorsill import". */
export async function sealOutbox(deps: SealingDeps): Promise<OutboxFile> {
  const organisation = await organisationOf(deps.store);
  if (organisation === undefined) {
    throw new StoreError(
      'refused',
      'This tablet does not know your organisation’s key yet. It learns it at the next sign-in with a network; until then nothing can be put into a file.',
    );
  }
  const lines = await linesFrom(deps, (await deps.store.number('ack')) + 1);
  const envelopes = await envelopesOf(deps, organisation, lines);
  return fileOf(
    envelopes.map((one) => JSON.stringify(one)),
    lines.length,
    deps.now(),
  );
}
