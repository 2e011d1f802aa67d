/**
 * Under which names messages are kept and sent. Every part is one token of letters, digits, `-` and `_`.
 *
 * - `j.SITE.DEVICE.CASE.POSITION.HASH` entries of a case, `f.SITE.DEVICE.KIND.HASH` a fact,
 *   `k.SITE.DEVICE.ITEM.VERSION.HASH` a wrapped key
 * - `live.SITE.DEVICE.WHAT`, `here.SITE.DEVICE`, `pair.ID.SIDE`: not kept
 *
 * HASH is 16 hex characters of the SHA-256 of the bytes that are kept. A subject is written once, so that
 * two messages for one place are two messages, and a message that is sent again is the one that is there.
 */

import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Bytes, StreamName } from './store-types.ts';

const TOKEN = /^[A-Za-z0-9_-]{1,64}$/;
const HASH = /^[0-9a-f]{16}$/;

export const isToken = (text: string): boolean => TOKEN.test(text);

export interface Place {
  readonly stream: StreamName;
  readonly site: string;
  readonly device: string;
  /** J: the case. F: the kind of fact. K: the case, or `clinic`. */
  readonly item: string;
  /** J: the `seq` of the first entry. K: the version of the clinic's key. F: null. */
  readonly number: number | null;
}

const LETTER: Readonly<Record<StreamName, string>> = { J: 'j', F: 'f', K: 'k' };

/** The subject without its hash: what a sealed message is bound to. */
export function placeText({ stream, site, device, item, number }: Place): string {
  const parts = [LETTER[stream], site, device, item];
  return [...parts, ...(number === null ? [] : [String(number)])].join('.');
}

export const hashOf = (data: Bytes): string => bytesToHex(sha256(data)).slice(0, 16);

export const subjectOf = (place: Place, data: Bytes): string =>
  `${placeText(place)}.${hashOf(data)}`;

/** The place that a subject names; null where it names none, or not that of these bytes. */
export function placeOf(subject: string, data: Bytes): Place | null {
  const parts = subject.split('.');
  const [letter, site = '', device = '', item = '', ...rest] = parts;
  const stream = (['J', 'F', 'K'] as const).find((each) => LETTER[each] === letter);
  if (stream === undefined || ![site, device, item].every(isToken)) return null;
  const [hash = '', count] = rest.toReversed();
  if (rest.length !== (stream === 'F' ? 1 : 2)) return null;
  if (!HASH.test(hash) || hash !== hashOf(data)) return null;
  if (stream === 'F') return { stream, site, device, item, number: null };
  if (count === undefined || !/^(0|[1-9]\d{0,8})$/.test(count)) return null;
  return { stream, site, device, item, number: Number(count) };
}

/** What the subject of a message that is kept says. Its parts were checked when the message was opened, not here. */
export function partsOf(subject: string): {
  readonly device: string;
  /** As in {@link Place}. */
  readonly item: string;
  /** As in {@link Place}; NaN where there is none. */
  readonly number: number;
} {
  const [, , device = '', item = '', number] = subject.split('.');
  return { device, item, number: Number(number) };
}

export const liveSubject = (o: { site: string; device: string; what: string }): string =>
  `live.${o.site}.${o.device}.${o.what}`;
export const hereSubject = (o: { site: string; device: string }): string =>
  `here.${o.site}.${o.device}`;
/** The two ends of a pairing. */
export const pairSubject = (id: string, side: 'new' | 'lead'): string => `pair.${id}.${side}`;
