/** What can be read from the state at one instant: offers, clocks, cues, and the view that holds them. */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects, Surface, WayBack } from '../protocol/types.ts';
import type { ListLine, PassPlace, TakenLine } from './pressing-types.ts';
import type { ToothProgress } from './progress-types.ts';
import type { CaseInstant, Elapsed } from './types.ts';

/** What one press would do. The bar shows its words; the log gets its payload. */
export type Offer = {
  readonly id: string;
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  readonly kind:
    | 'confirm'
    | 'start'
    | 'end'
    | 'coat'
    | 'pass'
    /** As many passes as the limit allows, counted by the hand that made them. */
    | 'all-passes'
    | 'passes-done'
    | 'choose'
    | 'light-on'
    | 'light-move'
    | 'light-off'
    /** Several things at one pause. */
    | 'list'
    /** Begins a pass of light, or goes on with one that was stopped. */
    | 'pass-begin'
    | 'pass-stop'
    | 'pass-confirm'
    | 'close';
  readonly surface?: Surface;
  readonly position?: number;
  readonly setMs?: number;
  readonly option?: string;
  /** For a list: what stands on it now, in order. */
  readonly list?: string;
  readonly lines?: readonly ListLine[];
  /** The lines that a press takes; absent for all that need no answer. */
  readonly taken?: readonly TakenLine[];
  /** The places of a pass: those it leads to, or those that are to be confirmed. */
  readonly places?: readonly PassPlace[];
  /** What the press that begins a pass confirms of the one before it. */
  readonly confirms?: readonly PassPlace[];
  /** The pass goes on where the light was stopped. */
  readonly resumes?: true;
  /** What the same press says of earlier steps. */
  readonly implies?: readonly { readonly step: string; readonly subjects: readonly SubjectId[] }[];
  /** Which coat or pass this would be, from 1. */
  readonly count?: number;
  readonly of?: number;
  /** How many coats before this one the same press says. */
  readonly between?: number;
  /** Not wanted before this much more time (0 when it is wanted now), judged by lo. */
  readonly dueInMs: number;
  /** Time left until a window or a maximum is broken, judged by hi (may be -Infinity); null when nothing binds it. */
  readonly slackMs: number | null;
  /** The same judged by lo, where that differs: with time left here, the limit is passed only perhaps. */
  readonly slackMostMs?: number;
  /** What binds it: a window id or the step's own maximum. */
  readonly boundBy: string | null;
};

type ClockKind = 'dwell' | 'window' | 'hold' | 'exposure' | 'rest';

/** One running clock, for all the subjects that share it. */
export interface Clock {
  readonly id: string;
  readonly kind: ClockKind;
  readonly of: string;
  readonly title: string;
  readonly subjects: readonly SubjectId[];
  readonly surface?: Surface;
  /** Of a pass of light, which has sounds of its own: the light on one place, or the time until the next (`rest`). */
  readonly paced?: true;
  readonly protects: Protects | null;
  readonly elapsed: Elapsed;
  /** One press stood for more than one moment: the time is known between two ends, without any gap. */
  readonly isSpread?: true;
  readonly minMs: number | null;
  readonly targetMs: number | null;
  readonly maxMs: number | null;
  readonly severity: 'note' | 'warning' | 'serious';
  readonly amber: boolean;
}

export type CueKind = 'nearing' | 'now' | 'over' | 'window-closing' | 'window-broken';

/** Something people should notice at a known instant. */
export interface Cue {
  readonly id: string;
  readonly kind: CueKind;
  readonly clock: string;
  readonly of: string;
  readonly subjects: readonly SubjectId[];
  readonly priority: 'low' | 'medium' | 'high';
  /** Negative when it is past; -Infinity when nobody knows for how long. */
  readonly dueInMs: number;
  readonly acknowledged: boolean;
}

/** One way on, as a press. */
export type WayOn =
  | {
      readonly kind: 'go-on';
      readonly offer: Offer;
    }
  | {
      readonly kind: 'way-back';
      readonly wayBack: WayBack;
      readonly subjects: readonly SubjectId[];
      /** What is said to have been done, though nobody pressed it: a later press would have said so. */
      readonly done?: readonly { readonly step: string; readonly subjects: readonly SubjectId[] }[];
    };

/** What happened, to what, and the one or two likely ways on. */
export interface AtOnce {
  readonly because: 'bead-firm' | 'cement-over' | 'cement-may-be-over' | 'light-failed';
  /** The mix, or the case where the light failed. */
  readonly subject: SubjectId;
  readonly ways: readonly WayOn[];
}

/** What is in hand and what is watched. */
export interface Attention {
  /** What must be answered before anything else: the bar says the first way on, the other stands beside it. */
  readonly asked: AtOnce | null;
  /** What the bar records: one step on its subjects. Null when nothing is offered, or a way back stands there. */
  readonly inHand: Offer | null;
  /** The running dwell or exposure of what is in hand; its number is the giant one. */
  readonly own: Clock | null;
  /** The clock that can do harm and has the least room left; it may be that of what is in hand. */
  readonly watched: Clock | null;
  /** While cement is out: the working time of the mix that ends first. */
  readonly working: Clock | null;
  /** Everything else that runs, the least room first, without what asks nothing of anybody now. */
  readonly quiet: readonly Clock[];
}

/** One place of a pass of light as it stands. */
export interface PassPlaceNow extends PassPlace {
  /** In ms, from now; negative once it has come. */
  readonly startsInMs: number;
  readonly endsInMs: number;
  /** `led`: its time is over. `lit`: now. `cut`: the light was stopped there. */
  readonly state: 'led' | 'lit' | 'cut' | 'to-come';
}

/** The pass of light that is under way or not confirmed. */
export interface LightPassNow {
  readonly step: string;
  readonly isStopped: boolean;
  readonly isOver: boolean;
  readonly places: readonly PassPlaceNow[];
}

/** Everything a screen needs at one instant; a pure function of state and now. */
export interface View {
  readonly at: CaseInstant;
  readonly offers: readonly Offer[];
  readonly clocks: readonly Clock[];
  /** What is in hand and what is watched. */
  readonly attention: Attention;
  readonly cues: readonly Cue[];
  readonly pass: LightPassNow | null;
  readonly teeth: readonly ToothProgress[];
  readonly done: number;
  readonly total: number;
  readonly amber: boolean;
  /** Soonest instant at which any of this changes by itself; null when nothing runs. */
  readonly nextChangeInMs: number | null;
  readonly finished: boolean;
}
