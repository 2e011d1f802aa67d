/**
 * Pictures and presence, which nobody keeps: sealed by the clinic's secret, signed and counted by the tablet
 * that shows them. A reader drops what is older than the last it took, so that no old picture comes late and
 * none can be shown again.
 */
import * as v from 'valibot';
import { MESSAGE_BYTES_MAX } from '../base/caps.ts';
import { jsonOr } from '../base/json.ts';
import { err, ok, type Result } from '../base/result.ts';
import { canonicalText, isStorable } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { isSignedBy, signText } from '../storage/signatures.ts';
import { hexSchema } from './bytes.ts';
import { keysOf, newestSecret, secretNamed } from './clinic-secret.ts';
import { frameOf, openFrame, sealFrame } from './frame.ts';
import type { ClinicSecret, Members, RefusedCode, Sealer } from './sealed-types.ts';
import type { Bytes } from './store-types.ts';
import { isToken } from './subjects.ts';

/** What a picture says, beside the signature. */
interface LiveContent {
  readonly counter: number;
  readonly value: unknown;
}

const signedText = (place: string, { counter, value }: LiveContent): string =>
  canonicalText({ what: 'lutewatch-live', place, counter, value });

/**
 * Seals a picture for `subject` (`live.SITE.DEVICE.WHAT` or `here.SITE.DEVICE`). `counter` must rise with every
 * one of that subject, over a restart of the app too: the wall clock in ms, or one more than the last.
 * @throws Error where `value` holds what JSON cannot carry.
 */
export async function sealLive(
  sealer: Sealer,
  o: { readonly subject: string; readonly counter: number; readonly value: unknown },
): Promise<Bytes> {
  const { crypto, membership, keys } = sealer;
  const { id, live } = await keysOf(crypto, newestSecret(membership.secrets));
  const { subject: place, counter, value } = o;
  const signature = await signText(crypto, keys, signedText(place, { counter, value }));
  const text = JSON.stringify({ counter, value, signature });
  return sealFrame(crypto, { key: live, keyId: id, place, text });
}

/** What opens pictures: what this tablet knows of the clinic when they come. */
export interface LiveOpener {
  readonly crypto: Crypto;
  readonly site: string;
  readonly secrets: readonly ClinicSecret[];
  readonly members: Members;
}

interface OpenedLive {
  readonly device: string;
  /** What stands after the device in the subject; empty for presence. */
  readonly what: string;
  readonly counter: number;
  readonly value: unknown;
}

const contentSchema = v.strictObject({
  counter: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
  value: v.unknown(),
  signature: hexSchema(64),
});

interface LivePlace {
  readonly site: string;
  readonly device: string;
  readonly what: string;
}

function placeOf(subject: string): LivePlace | null {
  const [first, site = '', device = '', ...rest] = subject.split('.');
  const isOne = first === 'live' ? rest.length === 1 : first === 'here' && rest.length === 0;
  if (!isOne || ![site, device, ...rest].every(isToken)) return null;
  return { site, device, what: rest[0] ?? '' };
}

async function contentOf(
  opener: LiveOpener,
  o: { readonly subject: string; readonly data: Bytes },
): Promise<Result<v.InferOutput<typeof contentSchema>, RefusedCode>> {
  const { crypto, secrets } = opener;
  const frame = o.data.length > MESSAGE_BYTES_MAX ? null : frameOf(o.data);
  if (frame === null) return err('not-a-message');
  const keys = await secretNamed(crypto, { secrets, id: frame.keyId });
  if (keys === null) return err('no-key');
  const opened = await openFrame(crypto, { key: keys.live, place: o.subject, frame });
  if (opened === 'does-not-open') return err('does-not-open');
  const json = opened === 'bad-content' ? null : jsonOr(opened.text);
  const content = json === null ? null : parsedOr(contentSchema, json.value);
  return content !== null && isStorable(content.value) ? ok(content) : err('bad-payload');
}

/** Opens a picture. Whether it is older than another is the reader's to know: {@link makeLiveReader}. */
export async function openLive(
  opener: LiveOpener,
  o: { readonly subject: string; readonly data: Bytes },
): Promise<Result<OpenedLive, RefusedCode>> {
  const place = placeOf(o.subject);
  if (place === null) return err('not-a-message');
  if (place.site !== opener.site) return err('other-clinic');
  const { device, what } = place;
  const member = opener.members.get(device);
  if (member === undefined) return err('unknown-tablet');
  if (member.putOut !== null) return err('put-out');
  const content = await contentOf(opener, o);
  if (!content.ok) return content;
  const { signature, counter, value } = content.value;
  const text = signedText(o.subject, { counter, value });
  const publicKey = member.signingKey;
  const isSigned = await isSignedBy(opener.crypto, { publicKey, signature, text });
  return isSigned === true ? ok({ device, what, counter, value }) : err('bad-signature');
}

/** A reader that gives each picture once and none that is older than one it gave (`older`). */
export function makeLiveReader(
  opener: () => LiveOpener,
): (o: {
  readonly subject: string;
  readonly data: Bytes;
}) => Promise<Result<OpenedLive, RefusedCode | 'older'>> {
  const highest = new Map<string, number>();
  return async (o) => {
    const opened = await openLive(opener(), o);
    if (!opened.ok) return opened;
    // Two may have been opened at a time: what counts is what stands here now.
    if (opened.value.counter <= (highest.get(o.subject) ?? -1)) return err('older');
    highest.set(o.subject, opened.value.counter);
    return opened;
  };
}
