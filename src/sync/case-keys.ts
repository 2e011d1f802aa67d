/**
 * The key of a case: AES-256-GCM, one for each case, so that a deleted case can be made unreadable. It is kept
 * wrapped (AES-KW, RFC 3394) by the clinic's secret of a version. Two tablets that began a case apart made two
 * keys: each is known by its id, and both open.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import * as v from 'valibot';
import { TABLETS_MAX } from '../base/caps.ts';
import { jsonOr } from '../base/json.ts';
import { err, ok, type Result } from '../base/result.ts';
import { canonicalText, isStorable } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { isSignedBy, signText, type TabletKeys } from '../storage/signatures.ts';
import { fromHex, hex, hexSchema, joined, random, textOf, utf8 } from './bytes.ts';
import { keysOf, newestSecret, type SecretKeys, secretNamed } from './clinic-secret.ts';
import { memberAt } from './members.ts';
import type {
  ClinicSecret,
  Members,
  RefusedCode,
  RefusedMessage,
  SealedMessage,
  Sealer,
} from './sealed-types.ts';
import type { StoredMessage } from './store-types.ts';
import { isToken, type Place, placeOf, placeText, subjectOf } from './subjects.ts';

const KEY_BYTES = 32;
const WRAPPED_BYTES = KEY_BYTES + 8;
const ID_BYTES = 8;
/** Under which item a new secret of the clinic is kept. */
const CLINIC_ITEM = 'clinic';

/** A case key in use: no script can read it back. */
export interface CaseKey {
  readonly caseId: string;
  /** 16 hex characters that follow from the key. */
  readonly id: string;
  readonly key: CryptoKey;
}

/** A case key as it is kept. Hex where not said otherwise. */
export interface WrappedCaseKey {
  readonly caseId: string;
  readonly keyId: string;
  /** Version and id of the secret that wraps it. */
  readonly version: number;
  readonly secretId: string;
  readonly wrapped: string;
}

/** The clinic's new secret, sealed for each tablet that stays. Hex where not said otherwise. */
export interface SealedSecret {
  readonly version: number;
  readonly sealed: readonly {
    readonly device: string;
    /** One-time public key, ECDH P-256, 65 bytes. */
    readonly ephemeral: string;
    /** Nonce of 12 bytes, ciphertext of 32, tag of 16. */
    readonly box: string;
  }[];
}

const GCM = 'AES-GCM';

/** The id follows from the key: what has the right id is the right key. */
const idOf = (raw: Uint8Array): string =>
  hex(sha256(joined(utf8('lutewatch case-key 1\n'), raw)).subarray(0, ID_BYTES));

async function inUse(crypto: Crypto, o: { caseId: string; raw: Uint8Array<ArrayBuffer> }) {
  const key = await crypto.subtle.importKey('raw', o.raw, GCM, false, ['encrypt', 'decrypt']);
  return { caseId: o.caseId, id: idOf(o.raw), key };
}

async function wrap(
  crypto: Crypto,
  o: { readonly caseId: string; readonly open: CryptoKey; readonly secret: ClinicSecret },
): Promise<WrappedCaseKey> {
  const { subtle } = crypto;
  const { id, wrap: by } = await keysOf(crypto, o.secret);
  const raw = new Uint8Array(await subtle.exportKey('raw', o.open));
  return {
    caseId: o.caseId,
    keyId: idOf(raw),
    version: o.secret.version,
    secretId: id,
    wrapped: hex(await subtle.wrapKey('raw', o.open, by, 'AES-KW')),
  };
}

/** A new key for a case, and the same wrapped by the secret. */
export async function makeCaseKey(
  crypto: Crypto,
  o: { readonly caseId: string; readonly secret: ClinicSecret },
): Promise<{ readonly caseKey: CaseKey; readonly wrapped: WrappedCaseKey }> {
  const { caseId, secret } = o;
  const raw = random(crypto, KEY_BYTES);
  const open = await crypto.subtle.importKey('raw', raw, GCM, true, ['encrypt', 'decrypt']);
  const wrapped = await wrap(crypto, { caseId, open, secret });
  return { caseKey: await inUse(crypto, { caseId, raw }), wrapped };
}

/** The wrapped key, so that it can be read; null where it does not open or is another than it says. */
async function unwrap(
  { subtle }: Crypto,
  o: { readonly wrapped: WrappedCaseKey; readonly by: SecretKeys },
): Promise<{ readonly open: CryptoKey; readonly raw: Uint8Array<ArrayBuffer> } | null> {
  const bytes = fromHex(o.wrapped.wrapped);
  const use: KeyUsage[] = ['encrypt', 'decrypt'];
  const open = await subtle
    .unwrapKey('raw', bytes, o.by.wrap, 'AES-KW', GCM, true, use)
    .catch(() => null);
  if (open === null) return null;
  const raw = new Uint8Array(await subtle.exportKey('raw', open));
  return idOf(raw) === o.wrapped.keyId ? { open, raw } : null;
}

interface Held {
  readonly wrapped: WrappedCaseKey;
  readonly secrets: readonly ClinicSecret[];
}

async function unwrapBy(crypto: Crypto, { wrapped, secrets }: Held) {
  const by = await secretNamed(crypto, { secrets, id: wrapped.secretId });
  if (by === null) return 'no-key' as const;
  return (await unwrap(crypto, { wrapped, by })) ?? ('does-not-open' as const);
}

/** The key, ready for use. `no-key`: the secret that wraps it is not held here (yet). */
export async function openCaseKey(
  crypto: Crypto,
  held: Held,
): Promise<Result<CaseKey, 'no-key' | 'does-not-open'>> {
  const unwrapped = await unwrapBy(crypto, held);
  if (typeof unwrapped === 'string') return err(unwrapped);
  return ok(await inUse(crypto, { caseId: held.wrapped.caseId, raw: unwrapped.raw }));
}

/** The same key wrapped by another secret. */
export async function rewrapCaseKey(
  crypto: Crypto,
  o: Held & { readonly by: ClinicSecret },
): Promise<Result<WrappedCaseKey, 'no-key' | 'does-not-open'>> {
  const unwrapped = await unwrapBy(crypto, o);
  if (typeof unwrapped === 'string') return err(unwrapped);
  const { caseId } = o.wrapped;
  return ok(await wrap(crypto, { caseId, open: unwrapped.open, secret: o.by }));
}

const signedText = (place: string, payload: unknown): string =>
  canonicalText({ what: 'lutewatch-message', place, payload });

async function keyMessage(
  sealer: Sealer,
  o: {
    readonly item: string;
    readonly version: number;
    readonly payload: unknown;
    readonly by: TabletKeys;
  },
): Promise<SealedMessage> {
  const { site, device } = sealer.membership;
  const place: Place = { stream: 'K', site, device, item: o.item, number: o.version };
  const { payload } = o;
  const text = signedText(placeText(place), payload);
  const signature = await signText(sealer.crypto, o.by, text);
  // What is in it is wrapped or sealed by itself, and the rest stands in its name.
  const data = utf8(canonicalText({ payload, signature }));
  return { subject: subjectOf(place, data), data };
}

/** The message that hands a case key to the other tablets, signed by this one. */
export const caseKeyMessage = (sealer: Sealer, key: WrappedCaseKey): Promise<SealedMessage> =>
  keyMessage(sealer, {
    item: key.caseId,
    version: key.version,
    payload: { type: 'case-key', ...key },
    by: sealer.keys,
  });

/** The message that hands a new secret to the tablets that stay, signed by the root key. */
export const clinicSecretMessage = (
  sealer: Sealer,
  o: { readonly secret: SealedSecret; readonly root: TabletKeys },
): Promise<SealedMessage> =>
  keyMessage(sealer, {
    item: CLINIC_ITEM,
    version: o.secret.version,
    payload: { type: 'clinic-secret', ...o.secret },
    by: o.root,
  });

const tokenSchema = v.pipe(v.string(), v.check(isToken, 'letters, digits, - and _'));
const versionSchema = v.pipe(v.number(), v.safeInteger(), v.minValue(1));

const keyPayloadSchema = v.variant('type', [
  v.strictObject({
    type: v.literal('case-key'),
    caseId: tokenSchema,
    keyId: hexSchema(ID_BYTES),
    version: versionSchema,
    secretId: hexSchema(ID_BYTES),
    wrapped: hexSchema(WRAPPED_BYTES),
  }),
  v.strictObject({
    type: v.literal('clinic-secret'),
    version: versionSchema,
    sealed: v.pipe(
      v.array(
        v.strictObject({
          device: tokenSchema,
          ephemeral: hexSchema(65),
          box: hexSchema(12 + KEY_BYTES + 16),
        }),
      ),
      v.maxLength(TABLETS_MAX),
    ),
  }),
]);

const envelopeSchema = v.strictObject({ payload: v.unknown(), signature: hexSchema(64) });

/** What a message of keys says. */
type OpenedKey =
  | { readonly type: 'case-key'; readonly device: string; readonly key: WrappedCaseKey }
  | { readonly type: 'clinic-secret'; readonly device: string; readonly secret: SealedSecret };

/** What this tablet knows of the clinic when a key comes. */
interface KeyOpener {
  readonly crypto: Crypto;
  readonly site: string;
  readonly rootKey: string;
  readonly members: Members;
}

type Step<T> = Result<T, RefusedCode>;

function envelopeOf(message: StoredMessage) {
  const place = placeOf(message.subject, message.data);
  const text = textOf(message.data);
  const json = text === null ? null : jsonOr(text);
  if (place === null || place.stream !== 'K' || message.stream !== 'K') return null;
  return json === null ? null : { place, envelope: parsedOr(envelopeSchema, json.value) };
}

async function openedKey(opener: KeyOpener, message: StoredMessage): Promise<Step<OpenedKey>> {
  const read = envelopeOf(message);
  if (read === null) return err('not-a-message');
  const { place, envelope } = read;
  const { device, stream, item } = place;
  if (place.site !== opener.site) return err('other-clinic');
  // The root key speaks for itself, whichever tablet it was used on.
  const isOfRoot = item === CLINIC_ITEM;
  const member = memberAt(opener.members, { device, stream, seq: message.seq });
  if (!isOfRoot && typeof member === 'string') return err(member);
  if (envelope === null) return err('bad-signature');
  if (!isStorable(envelope.payload)) return err('bad-payload');
  const { signature } = envelope;
  const publicKey = isOfRoot || typeof member === 'string' ? opener.rootKey : member.signingKey;
  const text = signedText(placeText(place), envelope.payload);
  const isSigned = await isSignedBy(opener.crypto, { publicKey, signature, text });
  if (isSigned !== true) return err('bad-signature');
  const payload = parsedOr(keyPayloadSchema, envelope.payload);
  if (payload === null || payload.version !== place.number) return err('bad-payload');
  if (payload.type === 'clinic-secret') {
    const { type, ...secret } = payload;
    return isOfRoot ? ok({ type, device, secret }) : err('bad-payload');
  }
  const { type, ...key } = payload;
  return key.caseId === item ? ok({ type, device, key }) : err('bad-payload');
}

/** Reads a message of keys (`K`); refused in the order of `RefusedCode`. What it holds is still wrapped. */
export async function openKeyMessage(
  opener: KeyOpener,
  message: StoredMessage,
): Promise<Result<OpenedKey, RefusedMessage>> {
  const result = await openedKey(opener, message);
  if (result.ok) return result;
  const { subject, seq } = message;
  return err({ code: result.error, subject, seq });
}

/** A new key for a case, and its message, by the newest secret of the tablet. */
export async function newCaseKey(
  sealer: Sealer,
  caseId: string,
): Promise<{
  readonly caseKey: CaseKey;
  readonly wrapped: WrappedCaseKey;
  readonly message: SealedMessage;
}> {
  const { crypto, membership } = sealer;
  const made = await makeCaseKey(crypto, { caseId, secret: newestSecret(membership.secrets) });
  return { ...made, message: await caseKeyMessage(sealer, made.wrapped) };
}
