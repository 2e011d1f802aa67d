/**
 * What each kind of event is to the log and to the clocks, in one table: the compiler asks for the
 * row of a new event, where a list of exceptions would have let it through.
 */
import type { CaseEvent } from './types.ts';

interface EventTraits {
  /** It has a moment of the work, which people may move. */
  readonly isTimed: boolean;
  /** It changes how earlier entries are read, so the log is folded anew. */
  readonly isCorrecting: boolean;
  /** A press that holds it can be taken back; an undo counts for itself. */
  readonly canBeTakenBack: boolean;
  /** What it does to the light. */
  readonly light: 'on' | 'off' | null;
}

const WORK: EventTraits = {
  isTimed: true,
  isCorrecting: false,
  canBeTakenBack: true,
  light: null,
};
/** About the clocks, the people or the materials: there is no moment of the work to move. */
const ASIDE: EventTraits = { ...WORK, isTimed: false };
const CORRECTION: EventTraits = { ...ASIDE, isCorrecting: true };

const EVENT_TRAITS = {
  'case-opened': WORK,
  'step-confirmed': WORK,
  'step-started': WORK,
  'step-ended': WORK,
  'coat-applied': WORK,
  'pass-made': WORK,
  'option-chosen': WORK,
  'exposure-started': { ...WORK, light: 'on' },
  'exposure-stopped': { ...WORK, light: 'off' },
  'light-pass-begun': { ...WORK, light: 'on' },
  'light-pass-stopped': { ...WORK, light: 'off' },
  'light-pass-confirmed': { ...WORK, isTimed: false },
  'tones-heard': { ...ASIDE, canBeTakenBack: false },
  'step-skipped': WORK,
  'way-back-taken': WORK,
  'mix-added': WORK,
  'plan-changed': ASIDE,
  'bead-probed': WORK,
  'material-named': ASIDE,
  'shade-tried': ASIDE,
  // What happened in an emergency stays; the bar's undo goes on meaning the work before it.
  'emergency-noted': { ...ASIDE, canBeTakenBack: false },
  'anaesthesia-given': WORK,
  'gap-found': ASIDE,
  'gap-settled': CORRECTION,
  'press-retimed': CORRECTION,
  'press-retracted': { ...CORRECTION, canBeTakenBack: false },
  'cue-acknowledged': ASIDE,
  'note-added': ASIDE,
  'numbering-changed': ASIDE,
  'visit-stopped': WORK,
  'role-taken': ASIDE,
  'pen-given': { ...ASIDE, canBeTakenBack: false },
  'pen-taken': { ...ASIDE, canBeTakenBack: false },
  'case-closed': WORK,
} as const satisfies Readonly<Record<CaseEvent['type'], EventTraits>>;

/** The row of one event. */
export const traitsOf = ({ type }: Pick<CaseEvent, 'type'>): EventTraits => EVENT_TRAITS[type];
