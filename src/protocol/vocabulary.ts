/** Closed lists of a protocol's vocabulary, for whoever must offer or judge each of them. */

/** What a step can be done per, and a way back be taken for. */
export const SCOPES = ['case', 'unit', 'tooth', 'contact', 'mix'] as const;

/** What can go wrong. */
export const MISHAPS = [
  'saliva',
  'blood',
  'dried-out',
  'over-time',
  'short-time',
  'unit-dropped',
  'unit-will-not-seat',
  'chipped',
  'wrong-material',
  'light-failed',
  'light-weak',
  'gelled-early',
  'left-in-light',
  'patient-must-rinse',
  'stopped',
] as const;

/** What light is given to, of a tooth. */
export const SURFACES = ['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual'] as const;
