/**
 * A drill: a rehearsal in which something goes wrong at a moment that nobody expects, or nothing does.
 * Everything is drawn from the case, the protocol and the seed. Times in ms; instants are on the case
 * axis, which begins at the opening.
 */
import type { InstanceKey } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap } from '../protocol/types.ts';
import type { FOILS, SIGHTS } from './sights.ts';

/** What is seen of a mishap, without its name. */
export type Sight = (typeof SIGHTS)[number];
/** What is seen and calls for nothing but going on. */
export type Foil = (typeof FOILS)[number];

/** One edge of a step on one subject. */
export interface DrillMoment {
  readonly key: InstanceKey;
  readonly edge: 'start' | 'end';
}

interface CardBase {
  readonly id: string;
  readonly subjects: readonly SubjectId[];
  /** It is shown so long after this moment. */
  readonly from: DrillMoment;
  readonly afterMs: number;
}

/** Something goes wrong: one of the protocol's ways back fits. */
export interface MishapCard extends CardBase {
  readonly kind: 'mishap';
  readonly mishap: Mishap;
  /** The way back that it was drawn from; another one for the same mishap may fit as well. */
  readonly wayBack: string;
  readonly sight: Sight;
}

/** Something is seen that calls for nothing. */
export interface FoilCard extends CardBase {
  readonly kind: 'foil';
  readonly sight: Foil;
}

/** The hands are kept away for a time, in which the clocks run. */
export interface InterruptionCard extends CardBase {
  readonly kind: 'interruption';
  readonly sight: 'telephone' | 'someone-enters';
  readonly awayMs: number;
}

export type DrillCard = MishapCard | FoilCard | InterruptionCard;

/** What a seed draws for a case. The same seed draws the same on every machine. */
export interface DrillPlan {
  readonly seed: number;
  /** Kinds of mishap that are drawn rather than others, such as those that are due. */
  readonly toward: readonly Mishap[];
  /** When it begins in the ideal run, between two presses or at one. */
  readonly beginsAtMs: number;
  /** Presses of the ideal run until then; at least the opening. */
  readonly pressesBefore: number;
  /** How long it lasts, if what is seen late does not make it longer. */
  readonly lastsMs: number;
  /** In the order in which they come in the ideal run. */
  readonly cards: readonly DrillCard[];
}

/** A card as it stood in one run. */
export interface ShownCard {
  readonly card: DrillCard;
  /** Null: it never came, because the work was past it or had not come to it. */
  readonly shownAtMs: number | null;
}
