/**
 * The envelope in which entries leave the tablet when they cannot be sent the
 * usual way: only the organisation's key opens it. The same as internal/seal.
 */
import { join, toBytes, type Bytes } from '../bytes';
import type { OrganisationKey } from '../model.gen';
import * as v from '../schema';
import { sealTo } from './hpke';

export const ENVELOPE_FORMAT = 'doorsill-sealed/1';

/** The organisation's public key as the session answer gives it: base64 of the raw point. */
export const organisationKey: v.Schema<OrganisationKey> = v.object({ id: v.nonEmpty, key: v.nonEmpty });

interface EnvelopeHead {
  readonly tablet: string;
  readonly person: string;
  /** Numbers of the first and the last entry. */
  readonly from: number;
  readonly to: number;
}

export interface Envelope extends EnvelopeHead {
  readonly format: string;
  readonly key: string;
  readonly enc: string;
  readonly sealed: string;
  /** The tablet's over envelopeStatement; left out where the tablet had no key. */
  readonly signature?: string;
}

/** What the box is bound to; the server builds the same bytes. */
export function boundTo(key: string, head: EnvelopeHead): Bytes {
  return toBytes([ENVELOPE_FORMAT, key, head.tablet, head.person, head.from, head.to].join('\n'));
}

export function toBase64(bytes: Bytes): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

export function fromBase64(text: string): Bytes {
  return Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
}

/** What the tablet signs of an envelope: the box, so that nobody can try guesses at what is in it on the signature. */
export function envelopeStatement({ key, tablet, person, from, to, enc, sealed }: Omit<Envelope, 'signature'>): Bytes {
  return join([toBytes('doorsill-envelope/1\n'), boundTo(key, { tablet, person, from, to }), toBytes(`\n${enc}\n${sealed}`)]);
}

/** Seals lines, each with its line end, and has the tablet sign the envelope. */
export async function sealEnvelope(
  organisation: OrganisationKey,
  head: EnvelopeHead,
  lines: Bytes,
  sign?: (statement: Bytes) => Promise<string>,
  pair?: CryptoKeyPair,
): Promise<Envelope> {
  const bound = boundTo(organisation.id, head);
  const { enc, box } = await sealTo(fromBase64(organisation.key), toBytes(ENVELOPE_FORMAT), bound, lines, pair);
  const { tablet, person, from, to } = head;
  const made = { format: ENVELOPE_FORMAT, key: organisation.id, tablet, person, from, to, enc: toBase64(enc), sealed: toBase64(box) };
  return sign === undefined ? made : { ...made, signature: await sign(envelopeStatement(made)) };
}
