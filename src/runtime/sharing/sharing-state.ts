/** What screens show of the clinic's store, and what they ask of it. */
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import type { RefusedCode } from '../../sync/sealed-types.ts';
import type { StoreLine } from '../../sync/store-types.ts';
import type { BrokenChain } from '../anchors/broken-chains.ts';
import type { CaseFacts } from '../cases/cases-list-facts.ts';
import type { Readable } from '../readable.ts';
import type { Conflict } from './conflicts.ts';
import type { FetchProgress } from './fetch-entries.ts';
import type { StoreOnlyState } from './store-only-lines.ts';

/** `alone`: this tablet belongs to no clinic of several tablets. */
export type SharingStanding = 'alone' | 'paired' | 'put-out';

export interface TabletRow {
  readonly device: string;
  /** The id under which it writes cases, where it was heard of; the same where it was paired only once. */
  readonly tablet?: string;
  readonly name: string;
  readonly isThis: boolean;
  /** The same tablet left and joined again: another row is what it is now. */
  readonly isEarlier?: true;
  readonly standing: 'paired' | 'put-out';
  /** When it was last heard of in this window, by this tablet's clock, ms since 1970; null while it never was. */
  readonly lastContactWallMs: number | null;
  /** Messages that it said it has not yet handed to the store; null while nothing was heard in this window. */
  readonly owes: number | null;
  /** What runs there: title and chart reference as they are shown; null when nothing does, or unheard. */
  readonly runs: { readonly caseId: string; readonly title: string } | null;
}

export interface RefusedRow {
  readonly code: RefusedCode;
  /** The tablet that the message names. */
  readonly device: string;
  readonly count: number;
}

export interface SharingState {
  readonly standing: SharingStanding;
  /** The store was made for trying. */
  readonly isDemo: boolean;
  readonly name: string;
  readonly line: StoreLine | 'off';
  /** Ms since 1970 at which everything of this tablet was in the store and everything of it read; null while never. */
  readonly sharedAtWallMs: number | null;
  /** Ms since 1970 since when that has not been so; null while it is so. */
  readonly behindSinceWallMs: number | null;
  /** Messages of this tablet that the store does not have yet. */
  readonly owed: number;
  /** A first reading of the store, or one after a long time; null at other times. */
  readonly catchUp: { readonly done: number; readonly of: number } | null;
  readonly tablets: readonly TabletRow[];
  /** Ms since 1970 since when others can be heard here; while it is young, silence says nothing. Null while alone. */
  readonly lookingSinceWallMs: number | null;
  readonly refused: readonly RefusedRow[];
  /** The store went back to an older state, and everything of this tablet is offered again. */
  readonly wentBackAtWallMs: number | null;
  /** What two tablets tell differently, and a person has to choose about. */
  readonly conflicts: number;
  /** Cases whose entries do not stand to a head that a tablet signed of them. */
  readonly brokenChains: readonly BrokenChain[];
  /** Cases of other tablets whose entries lie on the store alone; `revision` rises with every change of one. */
  readonly storeOnly: StoreOnlyState;
  /** The lead's box as it was sealed last; null while none is known here. */
  readonly box: { readonly sealedAtWallMs: number; readonly isKept: boolean } | null;
  /** What stands against sharing, by its stable code; null when nothing does. */
  readonly problem: string | null;
}

/** The store lets this tablet in no more, and it is not known why: `problem` of {@link SharingState}. */
export const NOT_LET_IN = 'not-let-in';

export const NOT_SHARING: SharingState = {
  standing: 'alone',
  isDemo: false,
  name: '',
  line: 'off',
  sharedAtWallMs: null,
  behindSinceWallMs: null,
  owed: 0,
  catchUp: null,
  tablets: [],
  lookingSinceWallMs: null,
  refused: [],
  wentBackAtWallMs: null,
  conflicts: 0,
  brokenChains: [],
  storeOnly: { count: 0, revision: 0 },
  box: null,
  problem: null,
};

/** A pairing that goes on: on the new tablet, or on the lead's. */
export interface PairingState {
  readonly side: 'new' | 'lead';
  readonly step: 'waiting' | 'compare' | 'done' | 'failed';
  /** Lead: the code to type on the new tablet, four groups of four. */
  readonly code: string | null;
  /** Six digits that both screens must show; null before. */
  readonly digits: string | null;
  /** Lead: the name that the new tablet gave itself. */
  readonly name: string | null;
  /** When the code no longer counts, ms since 1970. */
  readonly untilWallMs: number;
  /** New tablet, once it is done: no tablet founded the clinic yet, and `found` is asked for next. */
  readonly founds: boolean;
  /** Stable code of why it failed. */
  readonly problem: string | null;
}

export interface Pairing {
  readonly state: Readable<PairingState>;
  /** Lead: the digits are the same on both screens. */
  confirm(): Promise<void>;
  stop(): void;
}

/** What the page of the tablets asks for. Errors are problems with a stable code. */
export interface Sharing {
  readonly state: Readable<SharingState>;
  /** On a tablet that is alone: types the code that the lead's tablet, or the terminal, shows. */
  join(o: { readonly code: string; readonly name: string }): Promise<Result<Pairing, Problem>>;
  /**
   * After `join` with the first code: this tablet founds the clinic. The lead's passphrase seals the box.
   * `not-first` where the clinic was founded already.
   */
  found(o: { readonly passphrase: string }): Promise<Result<null, Problem>>;
  /** On the lead's tablet: opens the box and shows a code. Errors: `wrong-passphrase`, `no-box`, `not-connected`. */
  invite(o: { readonly passphrase: string }): Promise<Result<Pairing, Problem>>;
  putOut(o: {
    readonly device: string;
    readonly reason: string;
    readonly passphrase: string;
  }): Promise<Result<null, Problem>>;
  rename(o: {
    readonly device: string;
    readonly name: string;
    readonly passphrase: string;
  }): Promise<Result<null, Problem>>;
  /**
   * On the lead's tablet: erases in the store what is left there of deleted cases. Answers how many messages of
   * keys and of entries there were.
   */
  eraseDeleted(o: {
    readonly passphrase: string;
  }): Promise<Result<{ readonly keys: number; readonly entries: number }, Problem>>;
  /** The sealed box as text to print or keep: letters, digits, groups. Null while there is none here. */
  boxText(): Promise<string | null>;
  /** Somebody has the box on paper: the clinic's tablets need not ask for it any more. */
  boxPrinted(): Promise<Result<null, Problem>>;
  /** A tablet that is alone takes part again by the box: printed, or from a restored backup (`boxText` null: that one). */
  recover(o: {
    readonly boxText: string | null;
    readonly passphrase: string;
    readonly name: string;
  }): Promise<Result<null, Problem>>;
  /** This tablet takes part no more; its own records stay. */
  leave(): Promise<void>;
  /** What two tablets tell differently, and a person has to choose about. Errors: the journal's. */
  conflicts(): Promise<Result<readonly Conflict[], Problem>>;
  /** Lines of the cases whose entries lie on the store alone. */
  storeOnly(): Promise<readonly CaseFacts[]>;
  /**
   * Fetches the entries of such a case and keeps them on this tablet. Errors: what stands against the line,
   * `not-writer`, `gone`, `not-opened`, `other-entries`, and those of the journal.
   */
  bringHere(o: {
    readonly caseId: string;
    readonly onProgress: (progress: FetchProgress) => void;
  }): Promise<Result<null, Problem>>;
  /** Reads and offers at once, instead of at the next turn. */
  now(): void;
}
