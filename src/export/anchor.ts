/**
 * An anchor says how long the chain of a case was at one time, and which entry was its last. Kept elsewhere, it
 * shows later whether entries were cut off the end, which the chain itself cannot. As text, for people and for
 * the terminal: `57:HASH`, and where it is signed `57:HASH:PUBLIC KEY:SIGNATURE`, in lower-case hex.
 */
import { canonicalText } from '../protocol/canonical-text.ts';

export interface Anchor {
  readonly entries: number;
  /** Hash of the last entry then. */
  readonly head: string;
  /** By which tablet, where one signed it: Ed25519, the key and the signature as hex. */
  readonly signed: { readonly publicKey: string; readonly signature: string } | null;
}

/**
 * `cut`: fewer entries than the anchor names. `differs`: as many or more, but the entry at its place is another
 * one.
 */
export type AnchorState = 'holds' | 'cut' | 'differs';

/** An anchor of the case, with what it shows. */
export interface AnchorFact {
  readonly entries: number;
  readonly head: string;
  readonly publicKey: string | null;
  readonly signature: string | null;
  /** How the entries stand to it: whole up to it, cut off before it, or other ones. */
  readonly state: AnchorState;
  /** Whether the signature fits the key; null where there is none, or it could not be checked. */
  readonly isSigned: boolean | null;
}

/** Up to where a case is anchored outside the tablet that it is written on. */
export interface Anchorage {
  readonly entries: number;
  /** When that head was signed, by the clock of its tablet. */
  readonly atWallMs: number;
  /** Tablets beside that one that know it. */
  readonly knownTo: number;
}

/** What is signed of a head. */
export function headStatement(o: {
  readonly caseId: string;
  readonly entries: number;
  readonly head: string;
}): string {
  const { caseId, entries, head } = o;
  return canonicalText({ what: 'lutewatch-head', caseId, entries, head });
}

export function anchorText({ entries, head, signed }: Anchor): string {
  const own = `${entries}:${head}`;
  return signed === null ? own : `${own}:${signed.publicKey}:${signed.signature}`;
}

const ANCHOR = /^([1-9]\d{0,8}):([0-9a-f]{64})(?::([0-9a-f]{64}):([0-9a-f]{128}))?$/;

/** Null when the text is no anchor. */
export function parseAnchor(text: string): Anchor | null {
  const [, entries, head, publicKey, signature] = ANCHOR.exec(text.trim()) ?? [];
  if (entries === undefined || head === undefined) return null;
  const signed =
    publicKey === undefined || signature === undefined ? null : { publicKey, signature };
  return { entries: Number(entries), head, signed };
}

/** The text of an anchor as a record holds it. */
export function anchorFactText({ entries, head, publicKey, signature }: AnchorFact): string {
  const signed = publicKey === null || signature === null ? null : { publicKey, signature };
  return anchorText({ entries, head, signed });
}

/** What the entries are against an anchor that was kept of them. */
export function judgeAnchor(
  entries: readonly { readonly hash: string }[],
  anchor: Pick<Anchor, 'entries' | 'head'>,
): AnchorState {
  const last = entries[anchor.entries - 1];
  if (last === undefined) return 'cut';
  return last.hash === anchor.head ? 'holds' : 'differs';
}
