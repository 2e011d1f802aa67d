/** Closed lists of a protocol's vocabulary, for whoever must offer or judge each of them. */

/** What a step can be done per, and a way back be taken for. */
export const SCOPES = ['case', 'unit', 'tooth', 'contact', 'mix'] as const;

/** What can go wrong. */
export const MISHAPS = [
  'saliva',
  'blood',
  'dried-out',
  'haemostatic-on-tooth',
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

/** What a tooth shows where the unit is to be bonded; several may hold for one tooth. */
export const SUBSTRATES = [
  'enamel',
  'dentine-shows',
  'dentine-sealed',
  'no-enamel-margin',
  'build-up',
  'metal',
] as const;

/** What held the provisional on a tooth. */
export const PROVISIONALS = ['none', 'eugenol', 'eugenol-free', 'resin', 'unknown'] as const;

/** What was done to the inner face of a unit before this appointment. */
export const CONDITIONED = ['no', 'etched', 'etched-and-silanated', 'abraded'] as const;

/** How much light a unit lets through, as the laboratory names it. */
export const OPACITIES = [
  'high-translucency',
  'low-translucency',
  'medium-opacity',
  'opaque',
] as const;

/** What a step may depend on, of a tooth or of a unit. */
export const FACTS = [
  'substrate',
  'provisional',
  'conditioned',
  'opacity',
  'material',
  'restoration',
  'pontics',
] as const;
