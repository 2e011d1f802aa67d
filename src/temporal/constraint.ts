/**
 * The vocabulary of a simple temporal network: moments, and bounds between two of them.
 *
 * Source of the model: Dechter, Meiri & Pearl, Temporal constraint networks, Artificial
 * Intelligence 49:61-95, 1991, doi 10.1016/0004-3702(91)90006-6.
 */

/**
 * `to` comes at least `minMs` and at most `maxMs` after `from`. An absent side is unbounded.
 * Negative bounds are allowed: "at most 5 s before" is a minimum of -5000.
 */
export interface Constraint {
  readonly from: string;
  readonly to: string;
  readonly minMs?: number;
  readonly maxMs?: number;
}

/** Which bound of a constraint is meant. */
export type Side = 'min' | 'max';

/** One bound of one constraint: `edge` is the constraint's index in the list it came in. */
export interface BoundRef {
  readonly edge: number;
  readonly side: Side;
}

/**
 * What holds the two ends of a chain of bounds that cannot be kept. `lower` is the moment that
 * cannot be earlier (already fixed, or pending and so not before now), `upper` the fixed moment
 * that it pushes against. Node indexes are those of the compiled network.
 */
export interface Anchors {
  readonly lower: { readonly node: number; readonly because: 'fixed' | 'now' };
  readonly upper: { readonly node: number };
}

/**
 * One negative cycle of the distance graph. `parts` are its bounds in cycle order; `shortByMs`
 * (above 0) is how much all of them together would have to give for the cycle to be keepable.
 * `anchors` is null when the bounds contradict each other whatever has happened so far.
 * `blamed` is the part that is relaxed when work has to go on.
 */
export interface Conflict {
  readonly parts: readonly BoundRef[];
  readonly shortByMs: number;
  readonly anchors: Anchors | null;
  readonly blamed: BoundRef;
}
