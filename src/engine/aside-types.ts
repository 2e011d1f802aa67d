/** What is recorded beside the steps of a protocol: emergencies, and what was injected. */

/** The emergency cards, the most pressing ones first. */
export const EMERGENCY_CARDS = [
  'choking',
  'unit-in-mouth',
  'unit-not-found',
  'allergic-reaction',
  'unwell',
  'hydrofluoric-skin',
  'hydrofluoric-eye',
  'acid-eye',
  'acid-skin',
  'light-eye',
] as const;

export type EmergencyCardId = (typeof EMERGENCY_CARDS)[number];

export const EMERGENCY_ACTS = ['opened', 'step-done', 'closed'] as const;

/** One touch on an emergency card. */
export interface EmergencyNote {
  readonly card: EmergencyCardId;
  readonly act: (typeof EMERGENCY_ACTS)[number];
  /** The line of the card that was ticked. */
  readonly line?: string;
}

/** What was injected, by generic name, and where. A top-up is another one; nothing is computed from the volume. */
export interface Injection {
  /** Id of an agent of the reference table, with its vasoconstrictor. */
  readonly agent: string;
  readonly technique: string;
  /** FDI two-digit numbers. */
  readonly teeth: readonly string[];
  readonly ml?: number;
}
