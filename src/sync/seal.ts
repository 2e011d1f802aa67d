/**
 * Seals what a tablet tells the others, and opens what they told. Inside the seal stands the signature of the
 * tablet (Ed25519) over what it says and where: a message that another key sealed, that was changed, that was
 * moved or that another tablet signed is named, never taken.
 */
import * as v from 'valibot';
import { CASE_ENTRIES_MAX, MESSAGE_BYTES_MAX, PLAIN_BYTES_MAX } from '../base/caps.ts';
import { jsonOr } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { canonicalText, isStorable } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { entrySchema, RECORD_SCHEMAS } from '../storage/parse-stored.ts';
import { isSignedBy, signText } from '../storage/signatures.ts';
import { hexSchema, utf8 } from './bytes.ts';
import type { CaseKey } from './case-keys.ts';
import { keysOf, newestSecret, secretNamed } from './clinic-secret.ts';
import { type Frame, frameOf, openFrame, sealFrame } from './frame.ts';
import { memberAt, verifiedStatement } from './members.ts';
import type {
  ClinicSecret,
  Member,
  Members,
  OpenedMessage,
  Payload,
  RefusedCode,
  RefusedMessage,
  SealedMessage,
  Sealer,
  SignedStatement,
} from './sealed-types.ts';
import type { StoredMessage } from './store-types.ts';
import { isToken, type Place, placeOf, placeText, subjectOf } from './subjects.ts';

const ID_LENGTH_MAX = 500;
/** Under which kind the mark of a deletion is kept among the facts. */
const TOMBSTONE_ITEM = 'tombstone';
const FACT_DOCUMENT = 'fact-';

const idSchema = v.pipe(v.string(), v.minLength(1), v.maxLength(ID_LENGTH_MAX));

const payloadSchema = v.variant('type', [
  v.strictObject({
    type: v.literal('entries'),
    caseId: idSchema,
    entries: v.pipe(v.array(entrySchema), v.minLength(1), v.maxLength(CASE_ENTRIES_MAX)),
  }),
  v.strictObject({
    type: v.literal('fact'),
    kind: v.pipe(v.string(), v.startsWith(FACT_DOCUMENT)),
    id: idSchema,
    value: v.unknown(),
  }),
  v.strictObject({ type: v.literal('tombstone'), caseId: idSchema, value: v.unknown() }),
]);

const envelopeSchema = v.strictObject({ payload: v.unknown(), signature: hexSchema(64) });

/** What a tablet puts its name to. */
const signedText = (place: string, payload: unknown): string =>
  canonicalText({ what: 'lutewatch-message', place, payload });

async function seal(
  sealer: Sealer,
  o: {
    readonly place: Place;
    readonly payload: Payload;
    readonly keyId: string;
    readonly key: CryptoKey;
  },
): Promise<Result<SealedMessage, Problem>> {
  const { crypto, keys } = sealer;
  const { payload, keyId, key } = o;
  const place = placeText(o.place);
  if (!isToken(o.place.item)) return err(problem(place, 'a name of letters and digits', place));
  if (!isStorable(payload)) {
    return err(problem(place, 'what JSON can carry', 'other text', 'not-storable'));
  }
  const signature = await signText(crypto, keys, signedText(place, payload));
  const text = JSON.stringify({ payload, signature });
  const tooLarge = (max: number, came: number) =>
    err(problem(place, `at most ${max} bytes`, `${came} bytes`, 'too-large'));
  const { length } = utf8(text);
  if (length > PLAIN_BYTES_MAX) return tooLarge(PLAIN_BYTES_MAX, length);
  const data = await sealFrame(crypto, { key, keyId, place, text });
  if (data.length > MESSAGE_BYTES_MAX) return tooLarge(MESSAGE_BYTES_MAX, data.length);
  return ok({ subject: subjectOf(o.place, data), data });
}

async function sealAmongFacts(
  sealer: Sealer,
  o: { readonly item: string; readonly payload: Payload },
): Promise<Result<SealedMessage, Problem>> {
  const { membership, crypto } = sealer;
  const { site, device, secrets } = membership;
  const { id, facts } = await keysOf(crypto, newestSecret(secrets));
  const place: Place = { stream: 'F', site, device, item: o.item, number: null };
  return seal(sealer, { place, payload: o.payload, keyId: id, key: facts });
}

/**
 * Seals a fact, as the document that it is stored as: `kind` begins with `fact-`. Errors: `too-large`,
 * `not-storable`, `bad-value`.
 */
export async function sealFact(
  sealer: Sealer,
  fact: { readonly kind: string; readonly id: string; readonly value: unknown },
): Promise<Result<SealedMessage, Problem>> {
  const { kind, id, value } = fact;
  const item = kind.startsWith(FACT_DOCUMENT) ? kind.slice(FACT_DOCUMENT.length) : '';
  return sealAmongFacts(sealer, { item, payload: { type: 'fact', kind, id, value } });
}

/** Seals the mark of a deletion, which is kept among the facts. */
export async function sealTombstone(
  sealer: Sealer,
  o: { readonly caseId: string; readonly value: unknown },
): Promise<Result<SealedMessage, Problem>> {
  const payload: Payload = { type: 'tombstone', caseId: o.caseId, value: o.value };
  return sealAmongFacts(sealer, { item: TOMBSTONE_ITEM, payload });
}

/**
 * Seals entries of a case that follow one another. `too-large` where they are more than one message holds:
 * the caller halves them.
 */
export async function sealEntries(
  sealer: Sealer,
  o: {
    readonly caseKey: CaseKey;
    /** At least one; each carries its `seq`. */
    readonly entries: readonly { readonly seq: number }[];
  },
): Promise<Result<SealedMessage, Problem>> {
  const { caseId, id, key } = o.caseKey;
  const { site, device } = sealer.membership;
  const number = o.entries[0]?.seq ?? 0;
  const place: Place = { stream: 'J', site, device, item: caseId, number };
  const payload: Payload = { type: 'entries', caseId, entries: o.entries };
  return seal(sealer, { place, payload, keyId: id, key });
}

/** What opens messages: what this tablet knows of the clinic when they come. */
export interface Opener {
  readonly crypto: Crypto;
  readonly site: string;
  readonly rootKey: string;
  readonly secrets: readonly ClinicSecret[];
  readonly members: Members;
  /** The key of a case by its id; null where this tablet does not have it (yet). */
  caseKey(o: {
    readonly caseId: string;
    readonly keyId: string;
  }): Promise<CaseKey | null> | CaseKey | null;
}

type Step<T> = Result<T, RefusedCode>;

/** The key that a frame names, of the sort that its stream asks for. */
async function keyFor(
  opener: Opener,
  o: { readonly place: Place; readonly keyId: string },
): Promise<CryptoKey | null> {
  const { crypto, secrets } = opener;
  const { keyId } = o;
  if (o.place.stream === 'J') {
    return (await opener.caseKey({ caseId: o.place.item, keyId }))?.key ?? null;
  }
  return (await secretNamed(crypto, { secrets, id: keyId }))?.facts ?? null;
}

interface Envelope {
  readonly payload: unknown;
  readonly signature: string | null;
}

/** Opens the seal; nothing in it is checked yet. */
async function unsealed(
  opener: Opener,
  o: { readonly place: Place; readonly frame: Frame },
): Promise<Step<Envelope>> {
  const { frame } = o;
  const key = await keyFor(opener, { place: o.place, keyId: frame.keyId });
  if (key === null) return err('no-key');
  const opened = await openFrame(opener.crypto, { key, place: placeText(o.place), frame });
  if (opened === 'does-not-open') return err('does-not-open');
  if (opened === 'bad-content') return err('bad-payload');
  const json = jsonOr(opened.text);
  if (json === null) return err('bad-payload');
  const envelope = parsedOr(envelopeSchema, json.value);
  return ok(envelope ?? { payload: null, signature: null });
}

/** Whether entries are those that the place names, one after the other. */
const isEntriesAt = (payload: Extract<Payload, { type: 'entries' }>, place: Place): boolean =>
  payload.caseId === place.item &&
  payload.entries.every((each, i) => {
    const entry = parsedOr(entrySchema, each);
    return entry?.caseId === place.item && entry.seq === (place.number ?? 0) + i;
  });

/** Whether what is said may stand at this place. */
function isAtItsPlace(payload: Payload, place: Place): boolean {
  switch (payload.type) {
    case 'entries':
      return place.stream === 'J' && isEntriesAt(payload, place);
    case 'fact':
      return (
        place.stream === 'F' &&
        payload.kind === `${FACT_DOCUMENT}${place.item}` &&
        payload.value !== undefined
      );
    case 'tombstone': {
      const record = parsedOr(RECORD_SCHEMAS[2], { record: 'tombstone', body: payload.value });
      const isHere = place.stream === 'F' && place.item === TOMBSTONE_ITEM;
      return isHere && record?.body.caseId === payload.caseId;
    }
  }
}

async function checked(
  opener: Opener,
  o: { readonly place: Place; readonly member: Member; readonly envelope: Envelope },
): Promise<Step<OpenedMessage>> {
  const { place, member, envelope } = o;
  const { signature } = envelope;
  if (signature === null) return err('bad-signature');
  if (!isStorable(envelope.payload)) return err('bad-payload');
  const text = signedText(placeText(place), envelope.payload);
  const publicKey = member.signingKey;
  const isSigned = await isSignedBy(opener.crypto, { publicKey, signature, text });
  if (isSigned !== true) return err('bad-signature');
  const payload = parsedOr(payloadSchema, envelope.payload);
  if (payload === null || !isAtItsPlace(payload, place)) return err('bad-payload');
  return ok({ device: member.device, payload });
}

/** The place that a message of entries or facts names, and its frame. */
function placed(
  opener: Opener,
  message: StoredMessage,
): Step<{ readonly place: Place; readonly frame: Frame }> {
  const place = placeOf(message.subject, message.data);
  const frame = frameOf(message.data);
  if (place === null || frame === null) return err('not-a-message');
  if (place.stream !== message.stream || place.stream === 'K') return err('not-a-message');
  return place.site === opener.site ? ok({ place, frame }) : err('other-clinic');
}

async function opened(opener: Opener, message: StoredMessage): Promise<Step<OpenedMessage>> {
  const at = placed(opener, message);
  if (!at.ok) return at;
  const { place } = at.value;
  const { device, stream } = place;
  const member = memberAt(opener.members, { device, stream, seq: message.seq });
  if (typeof member === 'string') return err(member);
  const envelope = await unsealed(opener, at.value);
  return envelope.ok ? checked(opener, { place, member, envelope: envelope.value }) : envelope;
}

/**
 * Opens a message of entries (`J`) or of facts (`F`). It is refused for the first reason that holds, in the
 * order of `RefusedCode`. `unknown-tablet` and `no-key` may be tried again once more is known.
 */
export async function openMessage(
  opener: Opener,
  message: StoredMessage,
): Promise<Result<OpenedMessage, RefusedMessage>> {
  const result = await opened(opener, message);
  if (result.ok) return result;
  const { subject, seq } = message;
  return err({ code: result.error, subject, seq });
}

/** Kind of the facts that carry statements. */
const STATEMENT_ITEM = 'tablet';

/** Where a fact of the kind `tablet` keeps its statement. */
const carriesSchema = v.looseObject({
  type: v.literal('fact'),
  value: v.looseObject({ said: v.unknown() }),
});

/**
 * The statement that a message carries, whoever sent it: the root key alone vouches for it. So a tablet that
 * came by the box, which nobody knows yet, is known by its own first message. Null where there is none.
 */
export async function statementIn(
  opener: Opener,
  message: StoredMessage,
): Promise<SignedStatement | null> {
  const at = placed(opener, message);
  if (!at.ok || at.value.place.item !== STATEMENT_ITEM) return null;
  const envelope = await unsealed(opener, at.value);
  if (!envelope.ok) return null;
  const fact = parsedOr(carriesSchema, envelope.value.payload);
  return fact === null ? null : verifiedStatement(opener.crypto, opener, fact.value.said);
}
