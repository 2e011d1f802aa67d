/**
 * Everything a record says, as plain data: no undefined, no dates, no functions, so that it can be
 * written as JSON and read back equal. Times are whole milliseconds, instants are also told as UTC.
 */

import type { SurfacePlan } from '../engine/run-plan-types.ts';
import type { GapCause, InstanceKey, StepRun } from '../engine/types.ts';
import type { Unanswered } from '../engine/unanswered-types.ts';
import type { Notation } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Action, Mishap, Role, Surface } from '../protocol/types.ts';
import type { ZoneFact } from '../words/codes.ts';
import type { AnchorFact } from './anchor.ts';
import type { MaterialUse, Verification } from './export-source.ts';
import type { AsideFacts } from './record-aside-types.ts';
import type { InstantFact, LengthFact, PressedFact, PressFact } from './record-instant-types.ts';
import type { BreachFact, WindowFact } from './record-limit-types.ts';
import type { MixFact, ShadeFact } from './record-mix-types.ts';
import type { PassFact, PassPlaceFact, PressedHow, TonesFact } from './record-pressed-types.ts';
import type { TabletFacts } from './record-tablets-types.ts';

export type {
  BreachFact,
  InstantFact,
  LengthFact,
  MixFact,
  PassFact,
  PassPlaceFact,
  PressedFact,
  PressedHow,
  PressFact,
  ShadeFact,
  WindowFact,
};

/** Who did a step. The label is null where several have the role and nobody said who of them. */
export interface DoneByFact {
  readonly label: string | null;
  readonly role: Role;
}

/** One edge of a step. */
export interface EdgeFact {
  readonly at: InstantFact;
  readonly pressed: PressFact | null;
}

export interface ExposureFact {
  readonly surface: Surface;
  /** Position of the tip on the surface, from 1. */
  readonly position: number;
  readonly setMs: number;
  /** Credited at most for as long as the light was set to, so its upper end is always known. */
  readonly given: { readonly loMs: number; readonly hiMs: number };
  /** When the light went on. */
  readonly onAt: InstantFact | null;
  readonly on: PressFact | null;
  readonly off: PressFact | null;
  /** Led by tones: the pass was begun by `on` and confirmed by `off`. */
  readonly isPaced: boolean;
}

/** One surface of one unit: what it was to receive and what it was given. */
export interface SurfaceFact {
  readonly surface: Surface;
  readonly positions: number;
  readonly decidedBy: SurfacePlan['decidedBy'];
  readonly setMs: number;
  /** Judged by the shortest possible time. */
  readonly givenMs: number;
  readonly owedMs: number;
}

/** What the protocol asks of a step. Null where it asks nothing. */
export interface AskedFact {
  readonly minMs: number | null;
  readonly targetMs: number | null;
  readonly maxMs: number | null;
  /** Coats wanted, or the most passes. */
  readonly count: number | null;
  /** The least time between two coats, or between two exposures of one tooth. */
  readonly betweenMs: number | null;
}

/** One step on one subject. */
export interface StepFact {
  readonly key: InstanceKey;
  readonly step: string;
  readonly title: string;
  readonly stage: string;
  readonly action: Action['kind'] | null;
  readonly subject: SubjectId;
  /** ISO 3950 numbers of the teeth that belong to the subject. */
  readonly teeth: readonly string[];
  readonly status: StepRun['status'];
  /** Who pressed it; who did it is another fact. */
  readonly by: string | null;
  /** Null where it was pressed for itself. */
  readonly pressed: PressedHow | null;
  /** Null where the protocol lets either do it: then only who pressed is known. */
  readonly doneBy: DoneByFact | null;
  /** Without a press when the earlier case had done it. */
  readonly start: EdgeFact | null;
  readonly end: EdgeFact | null;
  readonly elapsed: LengthFact | null;
  readonly asked: AskedFact;
  /** By how much a timed step was at most shorter than its minimum; of light, what was never given. */
  readonly shortByMs: number;
  /** By how much it was at most longer than its maximum; null when nobody knows. */
  readonly overByMs: number | null;
  /** Where the other end of what is known keeps the limit: it may not have been broken. */
  readonly shortPerhaps: boolean;
  readonly overPerhaps: boolean;
  /** By how much the shortest time between two coats or exposures was at most too short. */
  readonly betweenShortByMs: number;
  readonly betweenPerhaps: boolean;
  /** Coats or passes. */
  readonly counts: readonly InstantFact[];
  readonly exposures: readonly ExposureFact[];
  readonly surfaces: readonly SurfaceFact[];
  readonly evidence: string | null;
  readonly option: string | null;
  readonly optionLabel: string | null;
  /** Why it was skipped. */
  readonly reason: string | null;
}

export interface VoidedFact extends StepFact {
  readonly voidedByPress: number;
  readonly voidedBecause: string;
}

/** A step that applies and has not been begun. */
export interface UndoneFact {
  readonly key: InstanceKey;
  readonly step: string;
  readonly title: string;
  readonly subject: SubjectId;
  /** What light it is still to receive; none for a step without light. */
  readonly surfaces: readonly SurfaceFact[];
}

export interface WayBackFact {
  /** Null when people went their own way. */
  readonly wayBack: string | null;
  readonly title: string | null;
  readonly mishap: Mishap;
  readonly subjects: readonly SubjectId[];
  readonly reason: string;
  readonly voided: readonly InstanceKey[];
  readonly pressed: PressFact;
}

/** Something that was corrected. What was pressed first stays in the log. */
export type CorrectionFact =
  | {
      readonly kind: 'taken-back';
      readonly of: PressFact;
      readonly was: readonly PressedFact[];
      readonly isInForce: boolean;
      readonly pressed: PressFact;
    }
  | {
      readonly kind: 'moved';
      readonly of: PressFact;
      readonly was: readonly PressedFact[];
      readonly byMs: number;
      readonly isInForce: boolean;
      readonly pressed: PressFact;
    }
  | {
      readonly kind: 'gap-settled';
      readonly gap: number;
      readonly lengthMs: number;
      readonly isInForce: boolean;
      readonly pressed: PressFact;
    }
  | {
      readonly kind: 'plan-changed';
      readonly reason: string;
      readonly isInForce: boolean;
      readonly pressed: PressFact;
    }
  | {
      readonly kind: 'mix-added';
      readonly units: readonly string[];
      readonly reason: string;
      readonly isInForce: boolean;
      readonly pressed: PressFact;
    };

export interface GapFact {
  readonly seq: number;
  readonly cause: GapCause;
  readonly at: InstantFact;
  readonly length: LengthFact;
  readonly isSettled: boolean;
  /** The wall clock was behind after the gap: its upper end is not known. */
  readonly isUntrusted: boolean;
}

export interface NoteFact {
  readonly words: string;
  readonly at: InstantFact;
  readonly pressed: PressFact;
  /** Written after the case was signed. */
  readonly isLate: boolean;
  /** What it is about; null for a note about the case. */
  readonly about: string | null;
}

/** A visit that ended before its work did. */
export interface StoppedFact {
  readonly reason: string;
  readonly at: InstantFact;
  readonly pressed: PressFact;
  /** What was left, and what the protocol proposes for work that is broken off there. */
  readonly left: readonly {
    readonly step: string;
    readonly title: string;
    readonly subjects: readonly SubjectId[];
  }[];
  readonly proposals: readonly {
    readonly wayBack: string;
    readonly title: string;
    readonly words: string;
    readonly subjects: readonly SubjectId[];
  }[];
}

interface ToothFact {
  /** ISO 3950. */
  readonly fdi: string;
  readonly universal: number | null;
  readonly name: string | null;
  /** Replaced by the unit: nothing is bonded there. */
  readonly isPontic: boolean;
}

export interface UnitFact {
  readonly id: string;
  readonly teeth: readonly ToothFact[];
  readonly restoration: string;
  readonly material: string;
  readonly thicknessMm: number | null;
  readonly shade: string | null;
}

export interface PersonFact {
  readonly id: string;
  readonly label: string;
  readonly role: Role;
}

export interface LightFact {
  readonly label: string;
  readonly irradianceMwPerCm2: number;
  readonly tipDiameterMm: number;
  readonly baselineMwPerCm2: number | null;
  /** Reading against the light's own baseline, to a tenth of a percent; negative is weaker. */
  readonly driftPercent: number | null;
  readonly readOn: string | null;
}

export interface ProtocolFact {
  readonly id: string;
  readonly revision: number;
  readonly title: string;
  /** SHA-256 over the canonical JSON of the document, lower-case hex. */
  readonly hash: string;
  /** Who confirmed this document for the clinic; null in a rehearsal with a template. */
  readonly approval: {
    readonly by: string;
    /** Who confirmed it as well, where the clinic asks two people. */
    readonly second?: string;
    readonly onUtc: string;
    readonly onLocal: string;
  } | null;
  /** What a newer template corrected that could hurt, unanswered when the case was begun. */
  readonly unanswered: Unanswered['corrections'];
}

/** A place for a material in the protocol, with the steps that asked for it and were done. */
export interface SlotFact {
  readonly slot: string;
  readonly materialClass: string;
  readonly label: string;
  readonly usedFor: readonly InstanceKey[];
}

export interface ChainFact {
  readonly entries: number;
  /** Hash of the last entry that holds. */
  readonly head: string | null;
  /** Hash of the first entry: it names the case for good. */
  readonly root: string | null;
  readonly isWhole: boolean;
  readonly firstBad: Verification['firstBad'];
  readonly setApart: number;
  /** Absent where none is known. */
  readonly anchor?: AnchorFact;
  /** Up to where it is anchored on other tablets; null: nowhere yet. Absent where the tablet shared with none. */
  readonly anchorage?: {
    readonly entries: number;
    readonly atUtc: string;
    readonly atLocal: string;
    readonly knownTo: number;
  } | null;
}

export interface RecordFacts extends AsideFacts, TabletFacts {
  readonly format: 'lutewatch-record';
  readonly formatVersion: 1;
  readonly caseId: string;
  /** Id of the case file that was prepared for it. */
  readonly preparedId: string;
  readonly chartRef: string;
  readonly title: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly notation: Notation;
  /** The zone of the local times below. */
  readonly zone: ZoneFact;
  readonly openedUtc: string;
  readonly openedLocal: string;
  /** The last thing that the log knows of, by the tablet's wall clock. */
  readonly lastUtc: string;
  readonly lastLocal: string;
  /** When light last fell on a unit, by the tablet's wall clock; null while none has been given. */
  readonly lastLightUtc: string | null;
  readonly lastLightLocal: string | null;
  readonly scheduledFor: string | null;
  readonly allergies: string | null;
  readonly note: string | null;
  /** The earlier case that this one goes on from, and when light last fell on it. */
  readonly follows: {
    readonly caseId: string;
    readonly lastExposureUtc: string;
    readonly lastExposureLocal: string;
  } | null;
  readonly signOff: {
    readonly by: string;
    readonly label: string;
    readonly role: Role;
    readonly at: InstantFact;
    readonly pressed: PressFact | null;
  } | null;
  readonly protocol: ProtocolFact;
  readonly people: readonly PersonFact[];
  readonly rolesTaken: readonly {
    readonly role: Role;
    readonly pressed: PressFact;
    readonly person: string;
  }[];
  readonly room: { readonly temperatureC: number; readonly lux: number | null };
  readonly light: LightFact;
  readonly units: readonly UnitFact[];
  /** Unit ids in seating order. */
  readonly order: readonly string[];
  readonly mixes: readonly MixFact[];
  readonly slots: readonly SlotFact[];
  readonly materials: readonly MaterialUse[];
  readonly shades: readonly ShadeFact[];
  readonly steps: readonly StepFact[];
  readonly passes: readonly PassFact[];
  readonly tones: readonly TonesFact[];
  readonly undone: readonly UndoneFact[];
  readonly windows: readonly WindowFact[];
  readonly breaches: readonly BreachFact[];
  readonly waysBack: readonly WayBackFact[];
  readonly voided: readonly VoidedFact[];
  readonly corrections: readonly CorrectionFact[];
  readonly gaps: readonly GapFact[];
  readonly notes: readonly NoteFact[];
  readonly cuesAcknowledged: readonly { readonly cue: string; readonly pressed: PressFact }[];
  readonly stopped: StoppedFact | null;
  /** Changes of how teeth were named on the screens. */
  readonly numberings: readonly { readonly notation: Notation; readonly pressed: PressFact }[];
  readonly chain: ChainFact;
}
