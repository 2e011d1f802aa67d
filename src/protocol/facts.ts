/** What a case file may say of its teeth and units, and the conditions on it in a protocol. */
import type { CONDITIONED, FACTS, OPACITIES, PROVISIONALS, SUBSTRATES } from './vocabulary.ts';

export type Substrate = (typeof SUBSTRATES)[number];
export type Provisional = (typeof PROVISIONALS)[number];
export type Conditioned = (typeof CONDITIONED)[number];
export type Opacity = (typeof OPACITIES)[number];
export type Fact = (typeof FACTS)[number];

/**
 * A condition on what the case file says of a subject. What nobody has answered matches nothing, not
 * even where another value would have matched. `pontics` is `yes` or `no` for the unit.
 */
export type Where =
  | { readonly fact: Fact; readonly is: readonly string[] }
  /** Something is known of it, and none of these. */
  | { readonly fact: Fact; readonly isNot: readonly string[] }
  /** The unit is thicker than this, in mm. */
  | { readonly overMm: number }
  /** What was chosen at set-up, or else the option that the protocol takes by itself. */
  | { readonly choice: string; readonly is: readonly string[] }
  | { readonly anyOf: readonly Where[] };

/** What is known about one tooth; what is absent was not asked yet. */
export interface ToothFacts {
  /** FDI two-digit number. */
  readonly tooth: string;
  readonly substrate?: readonly Substrate[];
  readonly provisional?: Provisional;
}
