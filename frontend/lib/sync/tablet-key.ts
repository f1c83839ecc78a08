/**
 * The key that this tablet signs with. It is made when its person's rows are first
 * open, lies among them sealed like all else, and the server is told its public
 * half before anything is sent, and anew whenever its log is another one.
 */
import type { Http } from '../api/http';
import { keyStatement, newKeyPair, openKeyPair, storedKeyPair, type TabletKey } from '../crypto/signing';
import type { EncryptedStore } from '../database/encrypted-store';
import { StoreError } from '../errors';
import type { TabletKeyRequest } from '../model.gen';
import * as v from '../schema';

const ROW = 'tablet-key';

/** The key pair as it lies in its row. */
const kept = v.object({
  pair: storedKeyPair,
  /** The server's log under which it was registered. */
  registered: v.optional(v.string),
});

interface KeyDeps {
  readonly store: EncryptedStore;
  readonly tablet: string;
}

async function read(store: EncryptedStore): Promise<v.Infer<typeof kept> | undefined> {
  return v.tryParse(kept, await store.secret(ROW));
}

/** What this tablet signs with; undefined where it has none, or none that opens. */
export async function tabletKey(store: EncryptedStore): Promise<TabletKey | undefined> {
  const row = await read(store);
  return row === undefined ? undefined : openKeyPair(row.pair).catch(() => undefined);
}

/** Makes the key where there is none. One that does not open is left as it is: the server knows no other. */
export async function makeTabletKey(store: EncryptedStore): Promise<void> {
  if ((await read(store)) !== undefined) return;
  const box = await store.seal('meta', ROW, { pair: await newKeyPair() });
  await store.db.write(['meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    if ((await meta.getKey(ROW)) === undefined) await meta.put({ key: ROW, box });
  });
}

/**
 * Tells the server the public half, unless it has it. What it refuses, and what
 * this browser cannot sign, is left to the push that follows, whose answer says why.
 */
export async function registerTabletKey({ store, tablet, http }: KeyDeps & { readonly http: Http }): Promise<void> {
  const row = await read(store);
  const log = await store.text('log');
  if (row === undefined || row.registered === log) return;
  const key = await tabletKey(store);
  if (key === undefined) return;
  const { algorithm, public: half, sign } = key;
  const body: TabletKeyRequest = { algorithm, public: half, proof: await sign(keyStatement(tablet, { algorithm, public: half })) };
  try {
    const answer = await http({ method: 'PUT', path: `/api/v1/tablets/${encodeURIComponent(tablet)}/key`, body });
    if (answer.status === 204) await store.keepSecret(ROW, { ...row, registered: log });
  } catch (error) {
    if (!(error instanceof StoreError) || error.code !== 'refused') throw error;
  }
}

/** The server has no key of this tablet after all: it is told again. */
export async function forgetRegistered(store: EncryptedStore): Promise<void> {
  const row = await read(store);
  if (row !== undefined) await store.keepSecret(ROW, { pair: row.pair });
}
