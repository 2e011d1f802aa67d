/**
 * What the two ends of a pairing say. First sealed by the code: the new tablet commits to its keys, the other end
 * answers with a one-time key, the new tablet shows what it committed to. Whoever stands between the two must
 * choose its keys before it knows theirs, so that both screens show the same digits only once in a million
 * tries. Then sealed by what both one-time keys agree on, which a code that is found later does not open.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import * as v from 'valibot';
import { MESSAGE_BYTES_MAX, SECRETS_MAX, TABLETS_MAX } from '../base/caps.ts';
import { jsonOr } from '../base/json.ts';
import { canonicalText, isStorable } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { fromHex, hex, hexSchema, joined, utf8 } from './bytes.ts';
import { frameOf, openFrame, sealFrame } from './frame.ts';
import { nameSchema, signedSchema, tokenSchema } from './members.ts';
import type { PairCode, PairSide } from './pair-code.ts';
import type { Bytes } from './store-types.ts';
import { pairSubject } from './subjects.ts';

const keySchema = hexSchema(65);
const nonceSchema = hexSchema(16);
const seedSchema = v.pipe(v.string(), v.regex(/^S[A-Z2-7]{57}$/));

const requestSchema = v.strictObject({
  /** A new id: a tablet that was paired before comes as another one. */
  device: tokenSchema,
  name: nameSchema,
  /** Ed25519, 32 bytes. */
  signingKey: hexSchema(32),
  /** ECDH P-256, 65 bytes. */
  sealingKey: keySchema,
  /** The public name of its user of the server. */
  user: v.pipe(v.string(), v.regex(/^U[A-Z2-7]{55}$/)),
});

/** What a new tablet says of itself: public halves only. Hex where not said otherwise. */
export type JoinRequest = v.InferOutput<typeof requestSchema>;

const revealSchema = v.strictObject({
  type: v.literal('reveal'),
  request: requestSchema,
  key: keySchema,
  nonce: nonceSchema,
});
const answerSchema = v.strictObject({
  type: v.literal('answer'),
  commit: hexSchema(32),
  key: keySchema,
  nonce: nonceSchema,
});
export type Reveal = v.InferOutput<typeof revealSchema>;
export type Answer = v.InferOutput<typeof answerSchema>;

/** Under the code. */
const earlySchema = v.variant('type', [
  v.strictObject({ type: v.literal('hello'), commit: hexSchema(32) }),
  answerSchema,
  revealSchema,
  v.strictObject({ type: v.literal('stop') }),
]);
export type EarlyMessage = v.InferOutput<typeof earlySchema>;

const seedsSchema = v.strictObject({
  operatorSeed: seedSchema,
  systemSeed: seedSchema,
  storeSeed: seedSchema,
  tabletsSeed: seedSchema,
  tabletSigningSeed: seedSchema,
  pairingSigningSeed: seedSchema,
});

const secretSchema = v.strictObject({
  version: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
  secret: hexSchema(32),
});

const welcomeSchema = v.strictObject({
  type: v.literal('welcome'),
  site: tokenSchema,
  device: tokenSchema,
  jwt: v.pipe(v.string(), v.maxLength(10_000)),
  rootKey: hexSchema(32),
  secrets: v.pipe(v.array(secretSchema), v.minLength(1), v.maxLength(SECRETS_MAX)),
  statements: v.pipe(v.array(signedSchema), v.maxLength(4 * TABLETS_MAX)),
  isDemo: v.boolean(),
});
const foundingSchema = v.strictObject({
  type: v.literal('founding'),
  site: tokenSchema,
  device: tokenSchema,
  seeds: seedsSchema,
  isDemo: v.boolean(),
});

/** What lets a tablet into a clinic. */
export type Welcome = v.InferOutput<typeof welcomeSchema>;
/** What lets a tablet found one: seeds of the server's keys. Secret and root key it makes itself. */
export type Founding = v.InferOutput<typeof foundingSchema>;

/** Under what the one-time keys agree on. `done`: the new tablet keeps what it was given. */
const lateSchema = v.variant('type', [
  welcomeSchema,
  foundingSchema,
  v.strictObject({ type: v.literal('done') }),
  v.strictObject({ type: v.literal('bye') }),
]);
export type LateMessage = v.InferOutput<typeof lateSchema>;

/** A key and its name, for one part of a pairing. */
export interface PairKey {
  /** 16 hex characters. */
  readonly keyId: string;
  readonly key: CryptoKey;
  /** Stands in the place that a message is bound to. */
  readonly part: 'code' | 'session';
}

export const keyOfCode = ({ id, key }: PairCode): PairKey => ({ keyId: id, key, part: 'code' });

const placeOf = (o: { readonly id: string; readonly side: PairSide }, { part }: PairKey): string =>
  `${pairSubject(o.id, o.side)} ${part}`;

export function sealPair(
  crypto: Crypto,
  o: {
    readonly id: string;
    /** Who says it. */
    readonly side: PairSide;
    readonly by: PairKey;
    readonly message: EarlyMessage | LateMessage;
  },
): Promise<Bytes> {
  const { key, keyId } = o.by;
  return sealFrame(crypto, { key, keyId, place: placeOf(o, o.by), text: canonicalText(o.message) });
}

/** What the other end said; null where it is noise, of another pairing, or sealed by no key of this one. */
export async function openPair(
  crypto: Crypto,
  o: {
    readonly id: string;
    /** Who is said to have said it. */
    readonly side: PairSide;
    readonly keys: readonly PairKey[];
    readonly data: Bytes;
  },
): Promise<
  | { readonly part: 'code'; readonly message: EarlyMessage }
  | { readonly part: 'session'; readonly message: LateMessage }
  | null
> {
  const frame = o.data.length > MESSAGE_BYTES_MAX ? null : frameOf(o.data);
  const by = o.keys.find(({ keyId }) => keyId === frame?.keyId);
  if (frame === null || by === undefined) return null;
  const opened = await openFrame(crypto, { key: by.key, place: placeOf(o, by), frame });
  const json = typeof opened === 'string' ? null : jsonOr(opened.text);
  if (json === null || !isStorable(json.value)) return null;
  if (by.part === 'code') {
    const message = parsedOr(earlySchema, json.value);
    return message === null ? null : { part: 'code', message };
  }
  const message = parsedOr(lateSchema, json.value);
  return message === null ? null : { part: 'session', message };
}

const WHAT = 'lutewatch-pairing';

/** What the new tablet commits to. */
export const commitOf = (id: string, reveal: Reveal): string =>
  hex(sha256(utf8(canonicalText({ what: WHAT, id, reveal }))));

/** All that the two ends agreed on. */
export const transcriptOf = (id: string, o: { reveal: Reveal; answer: Answer }): string =>
  canonicalText({ what: WHAT, id, reveal: o.reveal, answer: o.answer });

const CURVE = { name: 'ECDH', namedCurve: 'P-256' } as const;

/** The key of the second part; null where the other's key is no point of the curve. */
export async function sessionKey(
  { subtle }: Crypto,
  o: {
    readonly code: PairCode;
    readonly own: CryptoKey;
    /** Hex. */
    readonly other: string;
    readonly transcript: string;
  },
): Promise<PairKey | null> {
  const raw = fromHex(o.other);
  const other = await subtle.importKey('raw', raw, CURVE, false, []).catch(() => null);
  if (other === null) return null;
  const agreed = await subtle.deriveBits({ name: 'ECDH', public: other }, o.own, 256);
  // Of the code too, so that an agreed key alone opens nothing.
  const input = joined(new Uint8Array(agreed), o.code.bytes);
  const from = await subtle.importKey('raw', input, 'HKDF', false, ['deriveBits', 'deriveKey']);
  const hkdf = (purpose: string) => ({
    name: 'HKDF',
    hash: 'SHA-256',
    salt: new Uint8Array(sha256(utf8(o.transcript))),
    info: utf8(`${WHAT} 1 session ${purpose}`),
  });
  const aes = { name: 'AES-GCM', length: 256 };
  const key = await subtle.deriveKey(hkdf('key'), from, aes, false, ['encrypt', 'decrypt']);
  const keyId = hex(await subtle.deriveBits(hkdf('id'), from, 64));
  return { keyId, key, part: 'session' };
}
