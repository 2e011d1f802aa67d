/**
 * What people (or the app's own watch on its clocks) may ask for. `decide.ts` turns a command into
 * events or a refusal.
 */

import type { Notation } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap, Role } from '../protocol/types.ts';
import type { EmergencyNote, Injection } from './aside-types.ts';
import type { MaterialLot, ShadeTrial } from './material-types.ts';
import type { SeenClock } from './pen-types.ts';
import type { RunPlan } from './run-plan-types.ts';
import type { InstanceKey, NotedCause, Stamp } from './types.ts';
import type { Offer } from './view-types.ts';

/** The part of an offer that a press carries. */
export type Pressed = Pick<Offer, 'kind' | 'step' | 'subjects'> &
  Partial<
    Pick<
      Offer,
      | 'surface'
      | 'position'
      | 'setMs'
      | 'option'
      | 'list'
      | 'lines'
      | 'taken'
      | 'places'
      | 'confirms'
      | 'between'
    >
  >;

/** How the sample bead was found. */
export type BeadFound = 'soft' | 'stringy' | 'firm';

export type Command =
  | {
      readonly do: 'press';
      readonly offer: Pressed;
      readonly evidence?: string;
      /** Why a hold is not waited for; asked for only when one is broken by this press. */
      readonly reason?: string;
    }
  | {
      readonly do: 'skip';
      readonly step: string;
      readonly subjects: readonly SubjectId[];
      readonly reason: string;
    }
  /** A unit that will not be seated today: all that is left of it is skipped in one press. */
  | { readonly do: 'set-aside'; readonly unit: string; readonly reason: string }
  | {
      readonly do: 'take-way-back';
      /** Null when people go their own way and name what no longer counts themselves. */
      readonly wayBack: string | null;
      readonly mishap: Mishap;
      readonly subjects: readonly SubjectId[];
      readonly voids?: readonly InstanceKey[];
      readonly reason: string;
      /** What a later press would have said was done: it is recorded first, by the same press. */
      readonly wasDone?: true;
    }
  | { readonly do: 'undo' }
  /** Moves the last press; negative means it was earlier. */
  | { readonly do: 'retime'; readonly press?: number; readonly byMs: number }
  | { readonly do: 'add-mix'; readonly units: readonly string[]; readonly reason: string }
  | { readonly do: 'change-plan'; readonly plan: RunPlan; readonly reason: string }
  | {
      readonly do: 'probe-bead';
      readonly mix: SubjectId;
      readonly found: BeadFound;
    }
  | {
      readonly do: 'note-gap';
      readonly before: Stamp;
      readonly after: Stamp;
      readonly cause: NotedCause;
    }
  | { readonly do: 'settle-gap'; readonly gap: number; readonly lengthMs: number }
  | { readonly do: 'acknowledge'; readonly cue: string }
  | { readonly do: 'note-tones'; readonly heard: boolean }
  | { readonly do: 'note'; readonly words: string; readonly about?: string }
  | { readonly do: 'change-numbering'; readonly notation: Notation }
  /** Ends the visit with one reason: all that is left is skipped in one press. */
  | { readonly do: 'stop-visit'; readonly reason: string }
  | { readonly do: 'name-material'; readonly slot: string; readonly material: MaterialLot }
  | { readonly do: 'try-shade'; readonly trial: ShadeTrial }
  | { readonly do: 'note-emergency'; readonly note: EmergencyNote }
  | { readonly do: 'give-anaesthesia'; readonly given: Injection }
  | { readonly do: 'take-role'; readonly person: string; readonly role: Role }
  /** This tablet gives the case up: to one that is named, or to whoever takes it. */
  | {
      readonly do: 'give-pen';
      readonly tablet: string;
      readonly name: string;
      readonly to: string | null;
      readonly toName: string;
    }
  /** This tablet goes on with the case of another. */
  | {
      readonly do: 'take-pen';
      readonly tablet: string;
      readonly name: string;
      /** Name of the tablet that holds it, as this one knows it; else empty. */
      readonly fromName: string;
      /** The tablet that holds it was heard of just now. */
      readonly isHeard: boolean;
      /** Why it is taken from a tablet that is not heard of. */
      readonly reason?: string;
      readonly seen?: SeenClock;
      /** Hash of the last entry of the end that goes on elsewhere, where this is another one. */
      readonly over?: string;
    }
  | { readonly do: 'close'; readonly by: string; readonly role: Role };

/** What may still be done after the signature: words about the case, and corrections of its log. */
export const IS_FOR_CLOSED_CASES = {
  press: false,
  skip: false,
  'set-aside': false,
  'take-way-back': false,
  undo: true,
  retime: false,
  'add-mix': false,
  'change-plan': false,
  'probe-bead': false,
  'note-gap': true,
  'settle-gap': true,
  acknowledge: true,
  'note-tones': false,
  note: true,
  'change-numbering': false,
  'stop-visit': false,
  'name-material': false,
  'try-shade': false,
  'note-emergency': true,
  'give-anaesthesia': false,
  'take-role': false,
  'give-pen': false,
  'take-pen': true,
  close: false,
} as const satisfies Readonly<Record<Command['do'], boolean>>;

export type RefusalCode =
  | 'protocol-unconfirmed'
  | 'not-asked'
  | 'case-closed'
  | 'unknown-step'
  | 'unknown-subject'
  | 'not-yet'
  | 'not-running'
  | 'already-running'
  | 'already-done'
  | 'does-not-apply'
  | 'wrong-press'
  | 'light-is-on'
  | 'light-is-off'
  | 'unknown-option'
  | 'answer-missing'
  | 'nothing-taken'
  | 'reason-missing'
  | 'nothing-to-undo'
  | 'moves-past-now'
  | 'moves-before-its-start'
  | 'unknown-way-back'
  | 'unknown-gap'
  | 'gap-length'
  | 'unknown-unit'
  | 'unknown-person'
  | 'unknown-slot'
  /** Another tablet writes the case, or this one gave it up. */
  | 'not-holder'
  | 'holds-pen'
  | 'pen-is-held'
  | 'work-left'
  | 'plan-does-not-fit';

/** Why a command was not carried out. `values` fill the words kept under `code`. */
export interface Refusal {
  readonly code: RefusalCode;
  readonly values: Readonly<Record<string, string | number>>;
  /** Instances that are in the way, when there are any. */
  readonly missing: readonly InstanceKey[];
}

export function refusal(
  code: RefusalCode,
  values: Refusal['values'] = {},
  missing: readonly InstanceKey[] = [],
): Refusal {
  return { code, values, missing };
}
