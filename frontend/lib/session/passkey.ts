/**
 * Unlocking by passkey. The browser's WebAuthn extension "prf" gives the same
 * secret for the same passkey and salt each time; from it comes a key that wraps
 * the person's root key. No server takes part, so it works without a network.
 */
import { randomBytes, sameBytes, toBytes, type Bytes } from '../bytes';
import type { KeyRing } from '../crypto/key-ring';
import type { KeyRow } from '../database/rows';
import { StoreError } from '../errors';
import type { KeyStore } from './key-store';

interface Capable {
  readonly getClientCapabilities?: () => Promise<Readonly<Record<string, boolean>>>;
  readonly isUserVerifyingPlatformAuthenticatorAvailable?: () => Promise<boolean>;
}

/** Whether this browser can make a passkey that unlocks: it has the extension, and a way to check who it is. */
export async function canPasskey(): Promise<boolean> {
  const api = (globalThis as { readonly PublicKeyCredential?: Capable }).PublicKeyCredential;
  if (api?.isUserVerifyingPlatformAuthenticatorAvailable === undefined) return false;
  const can = await api.getClientCapabilities?.().catch(() => ({}));
  if ((can as Readonly<Record<string, boolean>> | undefined)?.['extension:prf'] === false) return false;
  return api.isUserVerifyingPlatformAuthenticatorAvailable().catch(() => false);
}

interface PrfResults {
  readonly prf?: { readonly enabled?: boolean; readonly results?: { readonly first?: BufferSource } };
}

const PATIENCE_MS = 120_000;

function failed(cause: unknown): StoreError {
  return new StoreError('refused', 'The passkey was not used. Nothing was changed; try again, or use your password.', { cause });
}

function bytesOf(source: BufferSource): Bytes {
  return ArrayBuffer.isView(source)
    ? new Uint8Array(source.buffer as ArrayBuffer, source.byteOffset, source.byteLength).slice()
    : new Uint8Array(source.slice(0));
}

/** The wrapping key that a passkey's secret gives for a person. */
export async function wrappingFrom(secret: Bytes, person: string): Promise<CryptoKey> {
  const base = await crypto.subtle.importKey('raw', secret, 'HKDF', false, ['deriveKey']);
  secret.fill(0);
  const params = { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(32), info: toBytes(`doorsill passkey|${person}`) };
  return crypto.subtle.deriveKey(params, base, { name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
}

function secretIn(credential: PublicKeyCredential): Bytes | null {
  const first = (credential.getClientExtensionResults() as PrfResults).prf?.results?.first;
  return first === undefined ? null : bytesOf(first);
}

interface Known {
  readonly id: Uint8Array;
  readonly salt: Uint8Array;
}

async function ask(known: readonly Known[]): Promise<{ readonly id: Bytes; readonly secret: Bytes }> {
  const evalByCredential = Object.fromEntries(known.map((one) => [toBase64Url(one.id), { first: new Uint8Array(one.salt) }]));
  const credential = await navigator.credentials
    .get({
      publicKey: {
        challenge: randomBytes(32),
        timeout: PATIENCE_MS,
        userVerification: 'required',
        allowCredentials: known.map((one) => ({ type: 'public-key' as const, id: new Uint8Array(one.id) })),
        extensions: { prf: { evalByCredential } },
      },
    })
    .catch((cause: unknown) => {
      throw failed(cause);
    });
  const secret = credential === null ? null : secretIn(credential as PublicKeyCredential);
  if (credential === null || secret === null) throw failed(null);
  return { id: new Uint8Array((credential as PublicKeyCredential).rawId), secret };
}

function toBase64Url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes))
    .replace(/\+/g, '-')
    .replace(/\//g, '_')
    .replace(/=+$/, '');
}

/** Makes a passkey on this device and wraps the keys under it too. */
export async function enrolPasskey(keyStore: KeyStore, row: KeyRow, password: string): Promise<void> {
  // The password is checked before a passkey is made that would open nothing.
  await keyStore.unlock(row, password);
  const salt = randomBytes(32);
  const made = (await navigator.credentials
    .create({
      publicKey: {
        challenge: randomBytes(32),
        timeout: PATIENCE_MS,
        rp: { name: 'Doorsill' },
        // No name goes into the device's list of passkeys.
        user: { id: randomBytes(16), name: 'Doorsill on this tablet', displayName: 'Doorsill on this tablet' },
        pubKeyCredParams: [
          { type: 'public-key', alg: -7 },
          { type: 'public-key', alg: -257 },
        ],
        authenticatorSelection: { residentKey: 'preferred', userVerification: 'required' },
        extensions: { prf: { eval: { first: salt } } },
      },
    })
    .catch((cause: unknown) => {
      throw failed(cause);
    })) as PublicKeyCredential | null;
  const results = made?.getClientExtensionResults() as PrfResults | undefined;
  if (made === null || results?.prf?.enabled === false)
    throw new StoreError('refused', 'This device makes passkeys, but none that can unlock the tablet. Your password works as before.');
  const id = new Uint8Array(made.rawId);
  const secret = secretIn(made) ?? (await ask([{ id, salt }])).secret;
  await keyStore.addPasskey(row, password, { id, salt, secret: await wrappingFrom(secret, row.person) });
}

/** Asks for any passkey of this tablet and opens the keys of its person. */
export async function unlockWithPasskey(keyStore: KeyStore): Promise<{ readonly row: KeyRow; readonly ring: KeyRing }> {
  const rows = await keyStore.all();
  const { id, secret } = await ask(rows.flatMap((row) => row.passkeys ?? []));
  const row = rows.find((one) => one.passkeys?.some((passkey) => sameBytes(passkey.id, id)));
  if (row === undefined) throw new StoreError('password', 'This passkey does not open this tablet.');
  return { row, ring: await keyStore.unlockByPasskey(row, id, await wrappingFrom(secret, row.person)) };
}
