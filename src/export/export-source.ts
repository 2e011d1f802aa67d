/**
 * What every form of a record is made from. The journal's own types live in storage, which this
 * layer does not know: the shapes below are equal to them, so that a reading of a case can be
 * handed over as it is.
 */

import type { CaseLog } from '../engine/log.ts';
import type { Recorded } from '../engine/types.ts';
import type { ZoneName } from '../words/zone.ts';
import type { Anchorage, AnchorFact } from './anchor.ts';

/** One stored entry with its place in the hash chain. Hashes are lower-case hex SHA-256. */
export interface ExportEntry extends Recorded {
  readonly caseId: string;
  readonly epoch: number;
  readonly prev: string;
  readonly hash: string;
}

/** Why an entry, and with it everything after it, is set apart. */
export type BadEntryReason =
  | 'shape'
  | 'other-case'
  | 'sequence'
  | 'link'
  | 'hash'
  | 'missing'
  /** The text of the entry is no JSON. */
  | 'text'
  /** The chain holds, but the event is none that this version knows. */
  | 'event';

/** What following the chain found. */
export interface Verification {
  /** Entries from the start whose chain holds. */
  readonly goodCount: number;
  readonly firstBad: { readonly index: number; readonly reason: BadEntryReason } | null;
}

/** One material that was used, as its label and the people said. Missing facts are null. */
export interface MaterialUse {
  /** The slot of the protocol that it filled. */
  readonly slot: string | null;
  /** Generic class, never a product. */
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string | null;
  /** ISO 8601 date, or year and month when the label states no day. */
  readonly expiresOn: string | null;
  /** ISO 8601 date: the last day of use, where its opening ends that before the label does. */
  readonly useBy?: string;
  readonly producedOn: string | null;
  readonly serial: string | null;
  readonly issuer: 'GS1' | 'HIBC' | null;
  readonly deviceIdentifier: string | null;
  /** The label code: as people read it, and as it was scanned, with its separators. */
  readonly carrier: { readonly humanReadable: string; readonly scanned: string | null } | null;
  readonly entry: 'barcode' | 'manual';
  /** The steps and subjects it was used for. */
  readonly usedFor: readonly { readonly step: string; readonly subject: string }[];
  /** What was said about it: expired, opened too long, still cold. */
  readonly remarks: readonly string[];
}

/** What another tablet pressed in the place of entries of this chain: kept apart, never merged. */
export interface SecondEnd {
  /** Id of the tablet, and its name as far as it is known. */
  readonly tablet: string;
  readonly name: string | null;
  /** From the first entry that is another one than that of the chain. */
  readonly entries: readonly ExportEntry[];
  /** The chain up to there says that another tablet held the pen; absent where it does not. */
  readonly withoutPen?: true;
}

/** The whole input of a record. The same input always gives the same bytes. */
export interface RecordSource {
  /** The fold of exactly these entries. */
  readonly log: CaseLog;
  /** The entries whose chain holds. */
  readonly entries: readonly ExportEntry[];
  readonly verification: Verification;
  /** What was set apart: the first bad entry and everything after it, as found. */
  readonly apart?: readonly unknown[];
  /** The zone in which a case is told that names none, or one that this engine has no rules for. */
  readonly clinicZone?: ZoneName;
  /** What was kept elsewhere of how long the chain was, and how it stands to that. */
  readonly anchor?: AnchorFact;
  /** Up to where it is anchored on other tablets, null: nowhere yet. Absent on a tablet that shares with none. */
  readonly anchorage?: Anchorage | null;
  /** Absent where there are none. */
  readonly secondEnds?: readonly SecondEnd[];
  /** Used in place of the lots that the journal names. */
  readonly materials?: readonly MaterialUse[];
}
