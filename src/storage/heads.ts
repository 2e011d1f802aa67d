/**
 * What the journal remembers outside its two homes: how many cases there are, how long the cases
 * written last are, and what of them is known to be lost. Two torn homes agree with each other; only
 * a third place can say that there was more. One text a place: `{body, sum}` as canonical JSON.
 */
import { canonicalText } from '../protocol/canonical-text.ts';
import { hashText } from './hash-chain.ts';
import { type Damage, NO_DAMAGE } from './journal-types.ts';

/** Where one case stood when it was last written. */
export interface CaseHead {
  readonly caseId: string;
  readonly title: string;
  readonly chartRef: string;
  readonly entries: number;
  /** Hash of the last of them. */
  readonly head: string;
}

export interface Heads {
  /** Cases of this tablet, deleted ones among them. */
  readonly cases: number;
  /** The cases written last, the newest at the end. */
  readonly recent: readonly CaseHead[];
  /** The file that was written last, and how long it was. */
  readonly file: { readonly name: string; readonly bytes: number } | null;
  readonly damage: Damage;
}

/** A place that keeps one short text. What it answers may be old or damaged; it never has to answer. */
export interface HeadsPlace {
  read(): Promise<readonly string[]>;
  write(text: string): Promise<void>;
}

/** Cases remembered by length; the text is written with every press and stays short. */
export const RECENT_MAX = 24;

export const NO_HEADS: Heads = { cases: 0, recent: [], file: null, damage: NO_DAMAGE };

/** The text that a place keeps. */
export function headsText(heads: Heads): string {
  return canonicalText({ body: heads, sum: hashText(canonicalText(heads)) });
}
