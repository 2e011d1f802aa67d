/** Rows of a small corrections file, for tests. The protocol and its faults are invented. */
import type { Correction } from '../../src/protocol/corrections.ts';

export const ROWS: readonly Correction[] = [
  {
    protocol: 'small',
    place: 'steps/rinse/title',
    was: 'Rinse',
    now: 'Rinse well',
    hurts: false,
    reason: 'The short word was read as a splash.',
  },
  {
    protocol: 'small',
    place: 'steps/etch/action.maxMs',
    was: 30_000,
    now: 20_000,
    hurts: true,
    reason: 'Longer acid harms the tooth.',
    source: 'wang-lu-1991',
  },
  {
    protocol: 'small',
    place: 'steps/clean/added',
    now: 'a step of its own',
    hurts: true,
    reason: 'Nobody was told to clean the tooth.',
  },
];
