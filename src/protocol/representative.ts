/**
 * A small case that stands for all cases when a protocol is checked without one: units on
 * neighbouring teeth, two portions of cement. Only who belongs to whom matters here, so its units
 * are of no material that a protocol names.
 */

import type { Unit } from './case-types.ts';
import type { Grouping } from './subjects.ts';

interface RepresentativeCase extends Grouping {
  readonly units: readonly Unit[];
}

const unitOn = (...teeth: readonly string[]): Unit => ({
  id: teeth.join('+'),
  teeth,
  restoration: 'any',
  material: 'any',
});

function caseOf(mixes: readonly (readonly Unit[])[]): RepresentativeCase {
  const units = mixes.flat();
  return {
    units,
    order: units.map((unit) => unit.id),
    mixes: mixes.map((mix) => mix.map((unit) => unit.id)),
  };
}

/**
 * Two single units, each from its own portion: enough for every bound between two moments, and no
 * portion is asked to serve more than the one unit that it must.
 */
export const TWO_UNITS = caseOf([[unitOn('11')], [unitOn('21')]]);

/** Four units, one of them on two teeth, from two portions: enough for every circle. */
export const FOUR_UNITS = caseOf([
  [unitOn('11'), unitOn('21')],
  [unitOn('22'), unitOn('23', '24')],
]);
