/** Which emergency cards are open on this tablet: part of the state that every screen reads. */
import type { EmergencyCardId } from '../../engine/aside-types.ts';
import type { Stamp } from '../../engine/types.ts';

export interface OpenCard {
  readonly card: EmergencyCardId;
  /** The tap that opened it. */
  readonly stamp: Stamp;
  /** The case in whose record it stands; null when none ran. */
  readonly caseId: string | null;
  readonly done: readonly { readonly line: string; readonly stamp: Stamp }[];
}

export interface EmergencyState {
  /** What stands over the screen: the choice of a card, a card, or nothing. */
  readonly shown: EmergencyCardId | 'list' | null;
  /** Cards whose clocks run, the newest last. */
  readonly open: readonly OpenCard[];
  /** How long the newest has been open, in words, while none is shown. */
  readonly span: string | null;
}

export const NO_EMERGENCY: EmergencyState = { shown: null, open: [], span: null };
