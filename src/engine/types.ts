/**
 * The vocabulary of the engine: stamps, events and the state that they make. Everything is readonly
 * data. Time is either a {@link Stamp} (what the device's clocks said) or a place on the case axis,
 * known as an interval because the clocks do not always agree.
 */
import type { CaseMs, DurationMs } from '../base/units.ts';
import type { CaseFile, Notation } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap, Protocol, Role, Surface } from '../protocol/types.ts';
import type { EmergencyNote, Injection } from './aside-types.ts';
import type { Drilled } from './drilled-types.ts';
import type { MaterialLot, ShadeTrial } from './material-types.ts';
import type { Pen, PenGiven, PenTaken } from './pen-types.ts';
import type { KnownBy, PassPlace, SweepMs, TimedPlace } from './pressing-types.ts';
import type { RunPlan } from './run-plan-types.ts';
import type { Stamp } from './stamp-types.ts';
import type { Unanswered } from './unanswered-types.ts';

export type { Stamp };

/**
 * A place on the case axis: not before `loMs`, not after `hiMs`. Equal when it is exact. Two places
 * are compared through `axis.ts`, since `hiMs` may be infinite.
 */
export interface CaseInstant {
  readonly loMs: CaseMs;
  /** Infinity behind a gap whose length nobody knows. */
  readonly hiMs: CaseMs;
  /** Only there: behind how many such gaps, and the upper end with each of them counted as none. */
  readonly behind?: { readonly gaps: number; readonly hiMs: CaseMs };
  /**
   * Only where one press stands for a stretch of time: how far from the place it may have been, in ms. The
   * near side may be -Infinity, the far side is finite.
   */
  readonly spread?: { readonly fromMs: number; readonly toMs: number };
}

/** A length of time known only as an interval; `loMs === hiMs` when exact. */
export interface Elapsed {
  readonly loMs: DurationMs;
  /** Infinity over a gap whose length nobody knows. */
  readonly hiMs: DurationMs;
}

/** `etch@tooth:12`. */
export type InstanceKey = string;

export interface Approval {
  readonly hash: string;
  readonly by: string;
  /** Who confirmed it as well, where the clinic asks two people. */
  readonly second?: string;
  readonly onWallMs: number;
}

export type NotedCause = 'closed' | 'asleep-or-moved' | 'moved-back';
/** `other-tablet`: another tablet went on, by clocks of its own. */
export type GapCause = NotedCause | 'other-tablet';

export type CaseEvent =
  | {
      readonly type: 'case-opened';
      readonly mode: 'patient' | 'rehearsal';
      readonly spec: CaseFile;
      readonly protocol: Protocol;
      readonly protocolHash: string;
      readonly approval: Approval | null;
      readonly plan: RunPlan;
      /** The clinic's zone, a name of the IANA time zone database; cases of older versions name none. */
      readonly zone?: string;
      /** The id of the tablet that it was opened on; cases of older versions name none. */
      readonly tablet?: string;
      /** Begun all the same with this open; absent where nothing was. */
      readonly unanswered?: Unanswered;
      /** Of a rehearsal in which something goes wrong. */
      readonly drill?: Drilled;
    }
  | {
      readonly type: 'step-confirmed';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      readonly evidence?: string;
      /** The list that it was a line of. */
      readonly list?: string;
      /** The later step whose press said so, or the way back before which people said so. */
      readonly impliedBy?: string;
    }
  | {
      readonly type: 'step-started';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      /** The subjects one after the other from this press on, each in such a time. */
      readonly sweep?: SweepMs;
    }
  | {
      readonly type: 'step-ended';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      readonly sweep?: SweepMs;
    }
  | {
      readonly type: 'coat-applied';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      /** The press of the last coat said so. */
      readonly impliedBy?: string;
    }
  | { readonly type: 'pass-made'; readonly step: string; readonly subject: SubjectId }
  | {
      readonly type: 'option-chosen';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      readonly option: string;
      /** What was read aloud before choosing. */
      readonly evidence?: string;
      /** The list that it was a line of. */
      readonly list?: string;
    }
  | {
      readonly type: 'exposure-started';
      readonly step: string;
      readonly subject: SubjectId;
      readonly surface: Surface;
      readonly position: number;
      readonly setMs: number;
    }
  | {
      readonly type: 'exposure-stopped';
      readonly step: string;
      readonly subject: SubjectId;
      readonly surface: Surface;
      readonly position: number;
    }
  | {
      /** The light goes over these places, led by tones; nothing counts before it is confirmed. */
      readonly type: 'light-pass-begun';
      readonly step: string;
      readonly places: readonly TimedPlace[];
      /** What there is between two places at most, in ms. */
      readonly changeMs: number;
    }
  | { readonly type: 'light-pass-stopped'; readonly step: string }
  | {
      readonly type: 'light-pass-confirmed';
      readonly step: string;
      /** The places that were lit for their time; none where the lamp was never on. */
      readonly places: readonly PassPlace[];
      readonly impliedBy?: string;
    }
  | {
      /** Whether the tones of this tablet are known to be heard. */
      readonly type: 'tones-heard';
      readonly heard: boolean;
    }
  | {
      readonly type: 'step-skipped';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      readonly reason: string;
    }
  | {
      readonly type: 'way-back-taken';
      /** Null when people chose their own way. */
      readonly wayBack: string | null;
      readonly mishap: Mishap;
      readonly subjects: readonly SubjectId[];
      readonly voided: readonly InstanceKey[];
      readonly reason: string;
    }
  | { readonly type: 'mix-added'; readonly units: readonly string[]; readonly reason: string }
  | { readonly type: 'plan-changed'; readonly plan: RunPlan; readonly reason: string }
  | {
      readonly type: 'bead-probed';
      readonly mix: SubjectId;
      readonly found: 'soft' | 'stringy' | 'firm';
    }
  | {
      readonly type: 'material-named';
      /** Slot of the protocol that this lot fills from now on. */
      readonly slot: string;
      readonly material: MaterialLot;
    }
  | { readonly type: 'shade-tried'; readonly trial: ShadeTrial }
  | ({ readonly type: 'emergency-noted' } & EmergencyNote)
  | ({ readonly type: 'anaesthesia-given' } & Injection)
  | {
      readonly type: 'gap-found';
      readonly before: Stamp;
      readonly after: Stamp;
      readonly cause: NotedCause;
    }
  | { readonly type: 'gap-settled'; readonly gap: number; readonly lengthMs: number }
  | { readonly type: 'press-retimed'; readonly press: number; readonly byMs: number }
  | { readonly type: 'press-retracted'; readonly press: number }
  | { readonly type: 'cue-acknowledged'; readonly cue: string }
  | {
      readonly type: 'note-added';
      readonly words: string;
      /** What the words are about, as the record names it; absent for a note about the case. */
      readonly about?: string;
    }
  | { readonly type: 'numbering-changed'; readonly notation: Notation }
  | {
      /** The visit ends before its work does; the same press skips what is left. */
      readonly type: 'visit-stopped';
      readonly reason: string;
      /** What the protocol proposes for work that is broken off where each subject stands. */
      readonly proposals: readonly {
        readonly wayBack: string;
        readonly subjects: readonly SubjectId[];
      }[];
    }
  | { readonly type: 'role-taken'; readonly person: string; readonly role: Role }
  | ({ readonly type: 'pen-given' } & PenGiven)
  | ({ readonly type: 'pen-taken' } & PenTaken)
  | { readonly type: 'case-closed'; readonly signedBy: string; readonly role: Role };

/**
 * One entry of the log. Entries of one press share `press`; they are written, retimed and taken
 * back together. `seq` counts from 0 without holes.
 */
export interface Recorded {
  readonly seq: number;
  readonly press: number;
  readonly stamp: Stamp;
  /** Person id, or null when the app itself noted something (a gap). */
  readonly by: string | null;
  readonly event: CaseEvent;
}

interface ExposureGiven {
  readonly surface: Surface;
  readonly position: number;
  readonly setMs: number;
  /** Credited time: the light switches itself off at `setMs`. */
  readonly given: Elapsed;
  /** Led by tones and confirmed afterwards by `press`. When it was on: from `at`, for `setMs`. */
  readonly paced?: { readonly at: CaseInstant; readonly press: number };
}

/** A place of a pass that the tones have led to, until somebody confirms or takes it back. */
export interface LedPlace extends PassPlace {
  /** When the light was to be put on there. */
  readonly at: CaseInstant;
  /** Whether its time was over before the light was stopped. */
  readonly isWhole: boolean;
}

/** A pass of light that nobody has confirmed yet. */
export interface LightPass {
  readonly step: string;
  readonly changeMs: number;
  /** What was led through before the light was stopped. */
  readonly led: readonly LedPlace[];
  /** What the tones lead through now, from `since` on; null while the light is stopped. */
  readonly running: { readonly since: CaseInstant; readonly places: readonly TimedPlace[] } | null;
  /** What was still to come when the light was stopped, the place at which it was cut first. */
  readonly left: readonly PassPlace[];
  /** Where the light was cut, and when: it is owed as a whole, and the tooth rests from then on. */
  readonly cut: { readonly place: PassPlace; readonly at: CaseInstant } | null;
  /** When the light had last left each exposing instance as the pass began. */
  readonly endsBefore: Readonly<Record<InstanceKey, CaseInstant>>;
}

/** What has happened to one step on one subject. Absent from the state while nothing has. */
export interface StepRun {
  readonly status: 'running' | 'done' | 'skipped';
  readonly startedAt: CaseInstant | null;
  readonly endedAt: CaseInstant | null;
  /** Coats applied or passes made, each with its instant. */
  readonly counts: readonly CaseInstant[];
  readonly exposures: readonly ExposureGiven[];
  /** The exposure that is on now. */
  readonly lit: {
    readonly surface: Surface;
    readonly position: number;
    readonly setMs: number;
    readonly since: CaseInstant;
  } | null;
  readonly evidence: string | null;
  readonly option: string | null;
  readonly reason: string | null;
  readonly by: string | null;
  /** Absent where it was pressed for itself. */
  readonly pressed?: KnownBy;
}

export type BreachKind =
  | 'short'
  | 'over'
  | 'early'
  | 'late'
  | 'passes-over'
  | 'exposure-short'
  /** The time between two coats. */
  | 'gap-short'
  /** The rest of a tooth between two exposures, where the step itself states one. */
  | 'rest-short';

/** A bound that was not kept. Recorded, never blocked. */
export interface Breach {
  readonly kind: BreachKind;
  /** Step id, or window id for `early` and `late`. */
  readonly of: string;
  readonly what: 'step' | 'window';
  readonly subject: SubjectId;
  /** In ms (passes for `passes-over`). Judged min by lo, max by hi: Infinity when nobody knows. */
  readonly by: number;
  /** Only where it may have been kept: the other end of what is known says so. */
  readonly perhaps?: true;
  readonly at: CaseInstant;
  readonly press: number;
  /** Counts from 2 where one press brought several of this kind on this subject. */
  readonly nth?: number;
}

interface VoidedRun {
  readonly key: InstanceKey;
  readonly run: StepRun;
  readonly press: number;
  readonly reason: string;
}

export interface Gap {
  readonly seq: number;
  readonly cause: GapCause;
  readonly at: CaseInstant;
  readonly loMs: number;
  readonly hiMs: number;
  readonly settled: boolean;
  /** The wall clock was behind after the gap, so there is no upper end: `hiMs` is Infinity. */
  readonly untrusted: boolean;
}

/**
 * Where the case axis stands: a stamp with its place, from which the clocks have agreed since, and
 * the latest stamp of that stretch. Another browser run picks up from the latest one.
 */
export interface AxisAnchor {
  readonly stamp: Stamp;
  readonly at: CaseInstant;
  readonly latest: Stamp;
}

export interface CaseState {
  readonly opened: Extract<CaseEvent, { type: 'case-opened' }>;
  readonly plan: RunPlan;
  readonly anchor: AxisAnchor;
  readonly runs: Readonly<Record<InstanceKey, StepRun>>;
  /** When the light last left each exposing instance. */
  readonly lightEnds: Readonly<Record<InstanceKey, CaseInstant>>;
  /** The pass of light that is not confirmed yet. */
  readonly lightPass: LightPass | null;
  /** Whether the tones are known to be heard; only then light is paced. */
  readonly tonesHeard: boolean;
  readonly breaches: readonly Breach[];
  readonly voided: readonly VoidedRun[];
  readonly gaps: readonly Gap[];
  readonly beads: Readonly<
    Record<
      SubjectId,
      readonly { readonly found: 'soft' | 'stringy' | 'firm'; readonly at: CaseInstant }[]
    >
  >;
  /** Lots by slot, newest last. */
  readonly materials: Readonly<
    Record<string, readonly { readonly material: MaterialLot; readonly at: CaseInstant }[]>
  >;
  readonly shades: readonly { readonly trial: ShadeTrial; readonly at: CaseInstant }[];
  readonly emergencies: readonly (EmergencyNote & { readonly at: CaseInstant })[];
  readonly injections: readonly (Injection & { readonly at: CaseInstant })[];
  readonly waysBack: readonly {
    readonly wayBack: string | null;
    readonly mishap: Mishap;
    readonly subjects: readonly SubjectId[];
    readonly reason: string;
    readonly press: number;
    readonly at: CaseInstant;
  }[];
  readonly acknowledged: Readonly<Record<string, true>>;
  readonly notes: readonly {
    readonly words: string;
    readonly at: CaseInstant;
    readonly by: string | null;
    /** What of the record it is about; absent for a note about the case. */
    readonly about?: string;
  }[];
  readonly roles: Readonly<Partial<Record<Role, string>>>;
  /** How teeth are named on the screens of this case. */
  readonly notation: Notation;
  readonly pen: Pen;
  readonly closed: { readonly by: string; readonly role: Role; readonly at: CaseInstant } | null;
}
