/**
 * The protocol: what is done, for how long, on whose word. It arrives as unknown JSON and becomes
 * these types only through `parse-protocol.ts`. Durations are whole milliseconds; every number that
 * a person answers for is a {@link Figure} with its basis.
 */
import type { Where } from './facts.ts';
import type { MISHAPS, SCOPES } from './vocabulary.ts';

/** Where a number comes from. Product instructions outrank the other two. */
export type Basis =
  | {
      readonly kind: 'instructions';
      readonly document: string;
      readonly revision: string;
      readonly page?: string;
      /** The sentence as it stands in the document. */
      readonly asWritten?: string;
      readonly confirmedBy: string;
      /** ISO 8601 calendar date, e.g. `2026-11-25`. */
      readonly confirmedOn: string;
      readonly reviewDue?: string;
    }
  | { readonly kind: 'published'; readonly source: string; readonly note?: string }
  | { readonly kind: 'practice'; readonly note?: string };

/** A number with its basis. Its unit stands in the key that holds it. */
export interface Figure {
  readonly value: number;
  readonly basis: Basis;
}

/** A publication that figures refer to by `id`. */
export interface Source {
  readonly id: string;
  /** Author, journal or standard, volume, pages, year. */
  readonly citation: string;
  readonly doi?: string;
}

export type Scope = (typeof SCOPES)[number];
export type Role = 'dentist' | 'assistant';
export type Surface = 'facial' | 'incisal' | 'occlusal' | 'mesial' | 'distal' | 'lingual';
export type Edge = 'start' | 'end';

/**
 * How a step waits for another one. `same`: for the same subject. `linked`: for the subjects that
 * belong to this one (the unit of that tooth, the mix of that unit, every unit of that mix).
 * `all`: for every subject of the other step (a barrier). `previous`: for what belongs to the
 * subject that stands before this one in the order of the case. `earlier`: for what belongs only to
 * subjects that stand before this one, such as the contacts between units that are seated already.
 */
export type Link = 'same' | 'linked' | 'all' | 'previous' | 'earlier';

export interface After {
  readonly step: string;
  readonly link: Link;
  /** The edge that is waited for; `end` when absent. */
  readonly edge?: Edge;
  /** Waits only where all of these hold. */
  readonly where?: readonly Where[];
}

/**
 * Opens a step only when an option was chosen, or a way back was taken. With `voided` only for subjects
 * on which that way back voided this other step: a unit that was loaded.
 */
export type OnlyIf =
  | { readonly step: string; readonly option: string }
  | { readonly wayBack: string; readonly voided?: string };

export type Evidence =
  | { readonly kind: 'choice'; readonly options: readonly { id: string; label: string }[] }
  | {
      readonly kind: 'reading';
      readonly label: string;
      readonly unit: string;
      readonly min: number;
      readonly max: number;
      /** Told against the baseline of the case's light. */
      readonly against?: 'light-baseline';
      /** The step whose number this one is to be the same as: what goes in comes out again. */
      readonly equals?: string;
    }
  | { readonly kind: 'material'; readonly slot: string }
  | { readonly kind: 'note'; readonly label: string }
  /** What the case file or the protocol says, read aloud; pressing records what was read. */
  | { readonly kind: 'read-back'; readonly of: ReadBack };

/** `loading`: shade and readiness of what is loaded; `readiness`: of every unit, before that. */
export type ReadBack =
  | 'teeth'
  | 'protocol'
  | 'materials'
  | 'allergies'
  | 'people'
  | 'loading'
  | 'readiness';

export interface DwellTimes {
  readonly minMs?: Figure;
  readonly targetMs: Figure;
  readonly maxMs?: Figure;
  /** The class of step these times are compared with, when it is not that of the step. */
  readonly rangeClass?: string;
}

export interface DwellVariant extends DwellTimes {
  readonly where: readonly Where[];
}

export type Action =
  | { readonly kind: 'confirm'; readonly evidence?: Evidence }
  | {
      readonly kind: 'dwell';
      readonly minMs?: Figure;
      readonly targetMs: Figure;
      readonly maxMs?: Figure;
      /** Times for units of a generic class that wants others, by the name of the class. */
      readonly byMaterial?: Readonly<Record<string, DwellTimes>>;
      /** Times for a tooth or unit of which more is known; the first that holds wins over the rest. */
      readonly variants?: readonly DwellVariant[];
    }
  | {
      readonly kind: 'coats';
      readonly count: Figure;
      readonly gapMsMin?: Figure;
      readonly until?: string;
    }
  | {
      readonly kind: 'expose';
      readonly surfaces: readonly Surface[];
      /** The product's own time for one position. At least one of the next two is given. */
      readonly perSurfaceMs?: Figure;
      /** Radiant exposure wanted at the cement; the plan turns it into a time. */
      readonly doseJPerCm2?: Figure;
      /** Shortest rest of one tooth between two exposures. */
      readonly restMs?: Figure;
      /** Walk through all units surface by surface, or finish unit after unit. */
      readonly walk: 'by-surface' | 'by-unit';
    }
  | { readonly kind: 'tally'; readonly passesMax: Figure; readonly label: string }
  | {
      readonly kind: 'choose';
      readonly options: readonly {
        readonly id: string;
        readonly label: string;
        /** Steps that are to be done again when this is chosen (a loop). */
        readonly redo?: readonly string[];
      }[];
      /** What is to be known before choosing; the press records it with the choice. */
      readonly evidence?: Extract<Evidence, { kind: 'read-back' }>;
    };

/** How long the hands are busy with one press, which stands for a whole round when `together`. */
export interface Pace {
  readonly medianMs: Figure;
  readonly p90Ms: Figure;
  /** What each subject of the press takes beside the fixed part. */
  readonly perSubjectMs?: Figure;
}

/** How long one subject of a sweep takes: in whole ms, the shortest and the longest that the clinic sees. */
export interface SweepTime {
  readonly shortestMs: Figure;
  readonly longestMs: Figure;
}

/**
 * How a step is pressed where it is not one press for each of its subjects.
 * `list`: a line of a list, taken with the rest of the list by one press.
 * `sweep`: one press as the hands begin to go over a round in order, at its start, its end or both.
 * `implied`: the press of any of these later steps says that this one is done too. Coats may name their own
 * step: then the press of the last coat also says those after the first.
 * `paced`: a light step; one press begins a pass over several places, tones lead through it, and
 * another press confirms it: that of `confirmedBy`, where it says so.
 */
export type Pressing =
  | { readonly kind: 'list'; readonly list: string }
  | { readonly kind: 'sweep'; readonly start?: SweepTime; readonly end?: SweepTime }
  | { readonly kind: 'implied'; readonly by: readonly string[] }
  | {
      readonly kind: 'paced';
      /** What there is between two places, to move the tip. */
      readonly changeMs: Figure;
      readonly confirmedBy?: string;
    };

/** Lines that are pressed together at one natural pause, in the order of the steps. */
export interface PressList {
  readonly id: string;
  readonly title: string;
  /** What the bar says. */
  readonly words: string;
}

export interface Step {
  readonly id: string;
  readonly stage: string;
  readonly title: string;
  /** One line of what to do, in the chair. */
  readonly instruction?: string;
  readonly why?: string;
  readonly cautions?: readonly string[];
  readonly per: Scope;
  /** One press serves every subject of the round. */
  readonly together?: boolean;
  /** The texts for a press about fewer subjects than the step has in the case, or about the only one. */
  readonly some?: {
    readonly instruction?: string;
    readonly words?: { readonly start?: string; readonly end?: string };
  };
  /** The step whose rounds this one shares. A step with `hands` leads rounds of its own. */
  readonly roundOf?: string;
  /** The clock starts with the press that ends this other step on the same subject. */
  readonly beginsWith?: string;
  readonly after: readonly After[];
  readonly onlyIf?: readonly OnlyIf[];
  /** Belongs to the case only on subjects for which all of these hold, from the case file. */
  readonly where?: readonly Where[];
  readonly by: Role | 'either';
  readonly usesLight?: boolean;
  readonly uses?: readonly string[];
  readonly action: Action;
  readonly pace: Pace;
  /** Absent: one press for each subject, or for each round where it is done together. */
  readonly pressed?: Pressing;
  /** For a dwell that is started and ended subject by subject: the hands' two rhythms. */
  readonly hands?: { readonly applyMs: Figure; readonly rinseMs: Figure };
  /** What the bar says. `{subject}` stands for the tooth, unit, contact or mix. */
  readonly words?: {
    readonly start?: string;
    readonly end?: string;
    /** Where this leaves the tooth or unit in its chain: "etched", "seated, not exposed". */
    readonly leaves?: string;
  };
  /** Class of step for comparing its numbers with published ranges, e.g. `etch-enamel`. */
  readonly rangeClass?: string;
  readonly optional?: boolean;
  /** It may be felt by a patient whose anaesthesia has worn off. */
  readonly mayHurt?: boolean;
  /** The field is isolated from the end of this step on, or no longer. */
  readonly field?: 'closes' | 'opens';
  /** Already done when the case opens, at this moment of the case that it follows. */
  readonly earlier?: 'last-exposure';
}

export type Protects = 'shield' | 'working' | 'wet' | 'hold' | 'warm' | 'other';

export interface Moment {
  readonly step: string;
  readonly edge: Edge;
}

/** A bound on the time between two moments of linked subjects. */
export interface Window {
  readonly id: string;
  readonly title: string;
  readonly from: Moment;
  readonly to: Moment;
  /** `last`: from the last of those that belong to it in the order of the case. */
  readonly match: 'same' | 'linked' | 'last';
  readonly minMs?: Figure;
  /** What is aimed at above the least. */
  readonly targetMs?: Figure;
  readonly maxMs?: Figure;
  /**
   * For a working time: how many times shorter it is in a room 10 °C warmer, 1 or more. An assumption
   * of the clinic where it is given; 2 is assumed where it is not.
   */
  readonly q10?: Figure;
  readonly protects: Protects;
  readonly severity: 'note' | 'warning' | 'serious';
  readonly wayBack?: string;
  /** Uncured resin is exposed while this is open: the screen goes amber. */
  readonly amber?: boolean;
  readonly why?: string;
}

export type Mishap = (typeof MISHAPS)[number];

/** What to do when something went wrong, at one stage of the work. */
export interface WayBack {
  readonly id: string;
  readonly title: string;
  readonly mishap: Mishap;
  readonly per: Scope;
  /** Applies to a subject once this step has begun (or been done) on it … */
  readonly from?: Moment;
  /** … and until this one has. */
  readonly until?: Moment;
  readonly where?: readonly Where[];
  /** What no longer counts and is to be done again. */
  readonly voids: readonly {
    readonly step: string;
    readonly link: 'same' | 'linked' | 'all';
    /** Only where this other step has begun on what belongs to the subject: a unit that was loaded. */
    readonly onlyAfter?: string;
  }[];
  /** What the app proposes, in one or two sentences. */
  readonly proposal: string;
  /** What can hurt while it is carried out, by id. */
  readonly cautions?: readonly string[];
  readonly basis: Basis;
}

export interface MaterialSlot {
  readonly id: string;
  /** Generic class, never a product. */
  readonly materialClass: string;
  readonly label: string;
  readonly refrigerated: boolean;
  readonly optional?: boolean;
  /** Labels under which other documents know what lies here, e.g. the bottles of one adhesive. */
  readonly standsFor?: readonly string[];
}

export interface Caution {
  readonly id: string;
  readonly words: string;
  /** What is shown for as long as the hazard is in the hands, beside a running clock. */
  readonly short?: string;
}

export interface ProtocolChoice {
  readonly id: string;
  readonly title: string;
  readonly why?: string;
  readonly options: readonly {
    readonly id: string;
    readonly label: string;
    readonly note?: string;
  }[];
  /** The option that holds where a case does not name another. */
  readonly default: string;
}

export interface Protocol {
  readonly format: 'lutewatch-protocol';
  readonly formatVersion: 1;
  readonly id: string;
  readonly revision: number;
  /** BCP 47 tag of the language that its texts are written in; `en` when absent. */
  readonly language?: string;
  readonly title: string;
  readonly summary: string;
  readonly restorations: readonly string[];
  /** Generic classes of the units this is written for; any when absent. */
  readonly materials?: readonly string[];
  readonly sources: readonly Source[];
  readonly cautions: readonly Caution[];
  readonly slots: readonly MaterialSlot[];
  /** Ways to work between which the clinic chooses at set-up. */
  readonly choices?: readonly ProtocolChoice[];
  readonly stages: readonly { readonly id: string; readonly title: string }[];
  readonly lists?: readonly PressList[];
  readonly steps: readonly Step[];
  readonly windows: readonly Window[];
  readonly waysBack: readonly WayBack[];
}
