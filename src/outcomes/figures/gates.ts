/**
 * Whether a comparison may be shown at all: "too few to tell", and what is missing. All the numbers
 * are choices, without a source.
 */
export const GATES = {
  lives: 100,
  expected: 5,
  patients: 10,
  patientsWithFailure: 10,
  completeness: 0.6,
  completenessApart: 0.1,
} as const;

/** What is known of one group. */
export interface GroupFacts {
  readonly name: string;
  readonly patients: number;
  /** Failures expected if the groups were alike. */
  readonly expected: number;
  /** Observed over possible time, 0 to 1. */
  readonly completeness: number;
}

/** One thing that is missing: what there is, and what it takes. `group` where it is of one group. */
export interface Missing {
  readonly gate: keyof typeof GATES;
  readonly group: string | null;
  readonly has: number;
  readonly needs: number;
}

export type Gates =
  | { readonly isOpen: true }
  | { readonly isOpen: false; readonly missing: readonly Missing[] };

const ROUNDING = 1e-9;

/** Open, or the list of all that is missing. */
export function gates(o: {
  readonly lives: number;
  readonly patientsWithFailure: number;
  /** Of all lives, 0 to 1. */
  readonly completeness: number;
  readonly groups: readonly GroupFacts[];
}): Gates {
  const missing: Missing[] = [];
  const atLeast = (gate: keyof typeof GATES, has: number, group: string | null): void => {
    if (has < GATES[gate] - ROUNDING) missing.push({ gate, group, has, needs: GATES[gate] });
  };
  atLeast('lives', o.lives, null);
  for (const group of o.groups) {
    atLeast('expected', group.expected, group.name);
    atLeast('patients', group.patients, group.name);
  }
  atLeast('patientsWithFailure', o.patientsWithFailure, null);
  atLeast('completeness', o.completeness, null);
  const shares = o.groups.map((group) => group.completeness);
  const apart = Math.max(...shares) - Math.min(...shares);
  if (apart > GATES.completenessApart + ROUNDING) {
    missing.push({
      gate: 'completenessApart',
      group: null,
      has: apart,
      needs: GATES.completenessApart,
    });
  }
  return missing.length === 0 ? { isOpen: true } : { isOpen: false, missing };
}
