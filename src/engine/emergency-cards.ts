/**
 * The emergency cards as data: which lines each has, in order, and which times are named on them. What
 * the lines say, and the source of each card, stands in the words; here are only the times, in ms.
 * No card names a dose of a drug.
 */
import type { EmergencyCardId } from './aside-types.ts';

/** A time counted on a line, from the tap on that line. */
export type CardTime =
  /** Elapsed against one or more named times, such as a rinse of 5 min or of 15. */
  | { readonly kind: 'against'; readonly namedMs: readonly number[] }
  /** Comes round again; every tap counts once and begins it anew. */
  | { readonly kind: 'every'; readonly everyMs: number };

export interface CardLine {
  readonly id: string;
  readonly time?: CardTime;
  /** The poison centre's number stands here, where the clinic has one. */
  readonly asksPoisonCentre?: true;
}

/** The line at the head of every card: the emergency number and the clinic's own protocol. */
export const CALL_LINE = 'called';

const against = (...namedMs: number[]): CardTime => ({ kind: 'against', namedMs });
const MINUTE_MS = 60_000;

/**
 * Times: university procedures for hydrofluoric acid (5 min with the gel at hand, otherwise 15, gel
 * renewed every 15 min), safety data sheets for other acids in an eye (15 min), Resuscitation Council
 * UK 2021 (a count every 5 min). 15 to 30 s on skin or gum: common practice, no source.
 */
const LINES: Readonly<Record<EmergencyCardId, readonly CardLine[]>> = {
  choking: [{ id: 'cough' }, { id: 'blows' }, { id: 'thrusts' }, { id: 'unresponsive' }],
  'unit-in-mouth': [{ id: 'stop' }, { id: 'head' }, { id: 'take-out' }, { id: 'gone' }],
  'unit-not-found': [{ id: 'assume' }, { id: 'search' }, { id: 'hospital' }],
  'allergic-reaction': [
    { id: 'stop' },
    { id: 'remove' },
    { id: 'emergency' },
    { id: 'lie' },
    { id: 'count', time: { kind: 'every', everyMs: 5 * MINUTE_MS } },
  ],
  unwell: [],
  'hydrofluoric-skin': [
    { id: 'rinse', time: against(5 * MINUTE_MS, 15 * MINUTE_MS) },
    { id: 'bare' },
    { id: 'gel', time: { kind: 'every', everyMs: 15 * MINUTE_MS } },
    { id: 'hospital', asksPoisonCentre: true },
  ],
  'hydrofluoric-eye': [
    { id: 'rinse', time: against(15 * MINUTE_MS) },
    { id: 'ambulance' },
    { id: 'no-gel', asksPoisonCentre: true },
  ],
  'acid-eye': [
    { id: 'rinse', time: against(15 * MINUTE_MS) },
    { id: 'no-rubbing' },
    { id: 'doctor', asksPoisonCentre: true },
  ],
  'acid-skin': [
    { id: 'rinse', time: against(15_000, 30_000) },
    { id: 'look', asksPoisonCentre: true },
    { id: 'write' },
  ],
  'light-eye': [{ id: 'stop' }, { id: 'write' }, { id: 'clinic' }],
};

/** The lines of one card, in order. */
export const cardLines = (card: EmergencyCardId): readonly CardLine[] => LINES[card];
