/**
 * The codes that words are keyed by where what they tell is worked out above this layer: the layers
 * above take their types from here, so that a code without words does not compile.
 */
import type { CueKind } from '../engine/view-types.ts';

/** Why something was set apart instead of being merged. */
export type ApartWhy =
  /** An entry or a line that does not hold by itself. */
  | 'damaged'
  /** An entry that another copy of the same case has otherwise. */
  | 'other-entry'
  /** A case of a backup that differs from the one here. */
  | 'other-case'
  /** What a backup had already set apart of a case. */
  | 'apart-before'
  /** A document that gave way to another version of it. */
  | 'gave-way';

/** What a restore did, counted. */
export interface RestoreCounts {
  readonly casesAdded: number;
  /** Cases that were here and got longer, or were damaged here and are whole again. */
  readonly casesContinued: number;
  readonly casesSame: number;
  /** Deleted on this tablet on purpose; they stay deleted. */
  readonly casesDeleted: number;
  /** Cases that differ from what is here under the same name. */
  readonly casesDiffering: number;
  readonly documentsTaken: number;
  readonly tombstonesTaken: number;
  readonly setApart: number;
}

/** What a restore names one by one, in the order in which it is told. */
export const RESTORED_GROUPS = [
  'revision',
  'sheet',
  'material',
  'prepared-case',
  'case',
  'follow-up',
  'outcome-review',
] as const;

export type RestoredGroup = (typeof RESTORED_GROUPS)[number];

/**
 * What a restore did to one of them: `waits` is a confirmation of another tablet, which the lead of
 * this one has not given yet; `set-apart` is what the file held.
 */
export const RESTORED_DEEDS = [
  'added',
  'changed',
  'removed',
  'recalled',
  'recall-lifted',
  'retired',
  'waits',
  'set-apart',
] as const;

export type RestoredDeed = (typeof RESTORED_DEEDS)[number];

/** One thing that a restore changed; `title` is its id where it has no name. */
export interface RestoredThing {
  readonly about: RestoredGroup;
  readonly id: string;
  readonly title: string;
  /** The number of a protocol's revision. */
  readonly revision: number | null;
  readonly did: readonly RestoredDeed[];
}

/** What can happen at the lead's desk. */
export const LEAD_DEEDS = [
  'passphrase-set',
  'passphrase-reset',
  'opened',
  'passphrase-refused',
  'closed',
  'draft-begun',
  'draft-dropped',
  'confirmed',
  'entry-removed',
  'correction-kept',
  'retired',
  'back-in-force',
  'exported',
  'imported',
  'import-refused',
  'stored-refused',
  'break-noted',
  'second-person',
  'sheet-kept',
  'sheet-put-away',
  'lot-recalled',
  'lot-recalled-at-shelf',
  'recall-lifted',
  'drill-note',
  'drills-signed',
] as const;
export type LeadDeed = (typeof LEAD_DEEDS)[number];

export type LeadValues = Readonly<Record<string, string | number>>;

/** What has to be said about a material before it is used. */
export type MaterialWarning =
  | { readonly code: 'recalled'; readonly reason: string }
  /** Whole days since the last day of use. */
  | { readonly code: 'expired'; readonly days: number }
  | { readonly code: 'opened-too-long'; readonly days: number }
  /** Minutes that are left; null when it has not been taken out. */
  | { readonly code: 'still-cold'; readonly minutes: number | null };

/** What a key or a pedal does. */
export type KeyVerb = 'press' | 'undo' | 'acknowledge';

/** What a sound stands for. */
export type SoundKind = CueKind | 'tablet-fault' | 'refused';

/** Whether the sound of this tablet is known to be heard, since when and by whom. */
export type SoundMemory =
  | { readonly state: 'never' }
  | { readonly state: 'fresh' | 'old' | 'quieter'; readonly atMs: number; readonly by: string };

/** The forms in which a record can be handed on. */
export type FormId = 'text' | 'json' | 'facts' | 'csv-steps' | 'csv-windows' | 'fhir' | 'ical';

/** `waiting` nothing yet, `short` under the floor, `within`, `past` the target, `full`, `over`. */
export type GaugePhase = 'waiting' | 'short' | 'within' | 'past' | 'full' | 'over';

/** Where one tooth stands. */
export type ToothState =
  | 'waiting'
  | 'active'
  | 'running'
  | 'done'
  | 'over'
  | 'short'
  | 'skipped'
  | 'voided';

/** Which words the chair clock puts under its figure. */
export type ClockWordsCode =
  | 'to-target'
  | 'past-target'
  | 'over-by'
  | 'over-by-up-to'
  | 'over-by-at-least'
  | 'at-least'
  | 'left-in-window'
  | 'to-hold'
  | 'held-for'
  | 'to-give'
  | 'given'
  | 'elapsed';

/** How pressing what the bar says is. */
export type Urgency = 'ready' | 'early' | 'due' | 'over';

/** The zone in which the times of a record are told. */
export interface ZoneFact {
  /** A name of the IANA time zone database. */
  readonly name: string;
  /** Where it comes from; `utc` when neither the case nor the reader names one. */
  readonly from: 'case' | 'clinic' | 'utc';
  /** What the case itself names; another one than `name` when this engine has no rules for it. */
  readonly ofCase: string | null;
}

/** What a change in the course of a case can be. */
export type ChangeKind = 'way-back' | 'correction' | 'plan' | 'emergency' | 'anaesthesia';

/** Parts of a prepared case in which two tablets may differ, what can hurt first. */
export const CASE_PARTS = [
  'allergies',
  'teeth',
  'units',
  'protocol',
  'anaesthesia',
  'date',
  'people',
  'light',
  'title',
  'chart',
  'rest',
] as const;

export type CasePart = (typeof CASE_PARTS)[number];

/** Why a message of the clinic's store is not shown. */
export type RefusedReason =
  | 'not-a-message'
  | 'other-clinic'
  | 'unknown-tablet'
  | 'put-out'
  | 'no-key'
  | 'does-not-open'
  | 'bad-signature'
  | 'bad-payload';
