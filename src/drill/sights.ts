/**
 * What is seen when something goes wrong, by what goes wrong and to what. The name of the mishap is not said:
 * to recognise it is part of the drill. Common practice, no source.
 */
import type { Mishap, Scope, WayBack } from '../protocol/types.ts';

export const SIGHTS = [
  'tooth-shines',
  'tooth-red',
  'tooth-chalky',
  'tooth-brown-film',
  'unit-drop-inside',
  'unit-red-inside',
  'unit-on-floor',
  'unit-stands-high',
  'unit-uncovered',
  'unit-loaded-uncovered',
  'unit-corner-gone',
  'margin-clear-fluid',
  'margin-red',
  'margin-red-tacked',
  'lamp-dark',
  'lamp-half',
  'cement-strings',
  'patient-hand-up',
] as const;

/** Seen often, and nothing is to be done about it here. */
export const FOILS = ['outer-face-touched', 'lip-wet', 'gum-red-dry', 'patient-swallows'] as const;

/**
 * What is seen of the mishap that a way back is for; null where it cannot be seen at one instant: a time
 * that has run out is shown by its clock, and that a visit is stopped is a decision.
 */
export function sightOf({ mishap, per, from, until }: WayBack): (typeof SIGHTS)[number] | null {
  return BY_MISHAP[mishap]?.({ per, from: from?.step ?? '', until: until?.step ?? '' }) ?? null;
}

type Sighted = (o: {
  readonly per: Scope;
  readonly from: string;
  readonly until: string;
}) => (typeof SIGHTS)[number] | null;

/** Ids of steps that the shipped protocols share; a clinic's own protocol copies them. */
const SEATED = 'seat';
const LOADED = 'load';
const TACKED = 'tack';

const BY_MISHAP: Readonly<Partial<Record<Mishap, Sighted>>> = {
  saliva: ({ per, from }) => {
    if (per === 'tooth') return 'tooth-shines';
    if (per !== 'unit') return null;
    return from === SEATED ? 'margin-clear-fluid' : 'unit-drop-inside';
  },
  blood: ({ per, from }) => {
    if (per === 'tooth') return 'tooth-red';
    if (per !== 'unit') return null;
    if (from === TACKED) return 'margin-red-tacked';
    return from === SEATED ? 'margin-red' : 'unit-red-inside';
  },
  'dried-out': ({ per }) => (per === 'tooth' ? 'tooth-chalky' : null),
  'haemostatic-on-tooth': ({ per }) => (per === 'tooth' ? 'tooth-brown-film' : null),
  'unit-dropped': ({ per }) => (per === 'unit' ? 'unit-on-floor' : null),
  'unit-will-not-seat': ({ per }) => (per === 'unit' ? 'unit-stands-high' : null),
  chipped: ({ per }) => (per === 'unit' ? 'unit-corner-gone' : null),
  'left-in-light': ({ per, from }) => {
    if (per !== 'unit') return null;
    return from === LOADED ? 'unit-loaded-uncovered' : 'unit-uncovered';
  },
  'light-failed': () => 'lamp-dark',
  'light-weak': () => 'lamp-half',
  'gelled-early': ({ per }) => (per === 'mix' ? 'cement-strings' : null),
  'patient-must-rinse': () => 'patient-hand-up',
};
