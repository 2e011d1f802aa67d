/**
 * Names of the 32 permanent teeth in three notations, and their order in the mouth.
 *
 * FDI two-digit codes after ISO 3950: quadrant 1 upper right, 2 upper left, 3 lower left, 4 lower
 * right of the patient, then 1 to 8 from the midline. Universal numbers 1 to 32 run from the upper
 * right third molar along the upper arch and back along the lower one. Palmer: quadrant and position.
 */
import * as v from 'valibot';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { type Read, readObject, readOptional } from './reading.ts';

type PalmerQuadrant = 'UR' | 'UL' | 'LL' | 'LR';

export interface Tooth {
  /** ISO 3950 code, 11 to 48. */
  readonly fdi: number;
  /** Universal number, 1 to 32. */
  readonly universal: number;
  readonly palmer: { readonly quadrant: PalmerQuadrant; readonly position: number };
  readonly jaw: 'upper' | 'lower';
  /** The patient's own right or left. */
  readonly side: 'right' | 'left';
  /** For example "maxillary right central incisor". */
  readonly name: string;
}

const KINDS = [
  'central incisor',
  'lateral incisor',
  'canine',
  'first premolar',
  'second premolar',
  'first molar',
  'second molar',
  'third molar',
] as const;

interface Quadrant {
  readonly digit: number;
  readonly letters: PalmerQuadrant;
  readonly jaw: 'upper' | 'lower';
  readonly side: 'right' | 'left';
  readonly universal: (position: number) => number;
}

const QUADRANTS: readonly Quadrant[] = [
  { digit: 1, letters: 'UR', jaw: 'upper', side: 'right', universal: (p) => 9 - p },
  { digit: 2, letters: 'UL', jaw: 'upper', side: 'left', universal: (p) => 8 + p },
  { digit: 3, letters: 'LL', jaw: 'lower', side: 'left', universal: (p) => 25 - p },
  { digit: 4, letters: 'LR', jaw: 'lower', side: 'right', universal: (p) => 24 + p },
];

function quadrantTeeth(quadrant: Quadrant): Tooth[] {
  const { digit, letters, jaw, side } = quadrant;
  const bone = jaw === 'upper' ? 'maxillary' : 'mandibular';
  return KINDS.map((kind, at) => ({
    fdi: digit * 10 + at + 1,
    universal: quadrant.universal(at + 1),
    palmer: { quadrant: letters, position: at + 1 },
    jaw,
    side,
    name: `${bone} ${side} ${kind}`,
  }));
}

/** All permanent teeth by ISO 3950 code: 11 to 18, 21 to 28, 31 to 38, 41 to 48. */
export const TEETH: readonly Tooth[] = QUADRANTS.flatMap(quadrantTeeth);

const BY_FDI = new Map(TEETH.map((tooth) => [tooth.fdi, tooth]));
const BY_UNIVERSAL = new Map(TEETH.map((tooth) => [tooth.universal, tooth]));

/** The tooth with an ISO 3950 code, or null when the code names no permanent tooth. */
export function toothByFdi(fdi: number): Tooth | null {
  return BY_FDI.get(fdi) ?? null;
}

/** The tooth with a Universal number, or null outside 1 to 32. */
export function toothByUniversal(universal: number): Tooth | null {
  return BY_UNIVERSAL.get(universal) ?? null;
}

/** Palmer in plain letters, as in "UR1". */
export function palmerPlain({ palmer }: Tooth): string {
  return `${palmer.quadrant}${palmer.position}`;
}

/**
 * The sixteen teeth of one jaw from the viewer's left to right, as seen from in front of the
 * patient: the patient's right side comes first.
 */
export function archFromFront(jaw: 'upper' | 'lower'): readonly Tooth[] {
  const ofJaw = TEETH.filter((tooth) => tooth.jaw === jaw);
  const byPosition = (a: Tooth, b: Tooth): number => a.palmer.position - b.palmer.position;
  const right = ofJaw.filter((tooth) => tooth.side === 'right').toSorted(byPosition);
  const left = ofJaw.filter((tooth) => tooth.side === 'left').toSorted(byPosition);
  return [...right.toReversed(), ...left];
}

/** The teeth beside a tooth in its own arch, the viewer's left one first; one at the arch's end. */
export function neighbours(tooth: Tooth): readonly Tooth[] {
  const arch = archFromFront(tooth.jaw);
  const at = arch.findIndex((each) => each.fdi === tooth.fdi);
  return [arch[at - 1], arch[at + 1]].filter((each) => each !== undefined);
}

/** A code as it came from outside. */
interface ToothCode {
  readonly number: number;
  /** Whether the code came as text; answers go back in the same form. */
  readonly asText: boolean;
}

/** Reads a whole number that may also come as text of one or two digits. */
function readCode(expected: string, known: (code: number) => boolean): Read<ToothCode> {
  const numberIn = (came: unknown): unknown =>
    typeof came === 'string' && /^[1-9]\d?$/.test(came) ? Number(came) : came;
  return v.pipe(
    v.custom<string | number>((came) => {
      const number = numberIn(came);
      return typeof number === 'number' && known(number);
    }, expected),
    v.transform((came) => ({ number: Number(came), asText: typeof came === 'string' })),
  );
}

/** Reads an ISO 3950 code of a permanent tooth, as a number or as text. */
export const readFdi: Read<ToothCode> = readCode(
  'a permanent tooth 11-18, 21-28, 31-38 or 41-48',
  (code) => BY_FDI.has(code),
);

const readUniversal = readCode('a whole number from 1 to 32', (code) => BY_UNIVERSAL.has(code));

const readInput = readObject({
  fdi: readOptional(readFdi),
  universal: readOptional(readUniversal),
});

const ONE_KEY = {
  code: 'bad-value',
  place: 'calc.tooth',
  expected: 'exactly one of the keys fdi and universal',
};

function findTooth(fdi: ToothCode | null, universal: ToothCode | null): Result<Tooth, Problem> {
  const found =
    fdi !== null ? toothByFdi(fdi.number) : universal && toothByUniversal(universal.number);
  return found === null ? err({ ...ONE_KEY, came: 'nothing' }) : ok(found);
}

/** `tooth`: one tooth in all notations; codes go back as text if the given code came as text. */
export const toothCalc: Calc = defineCalc(
  {
    name: 'tooth',
    about: 'a tooth in FDI, Universal and Palmer notation',
    source:
      'ISO 3950 (FDI); Universal and Palmer as in common use; HL7 FHIR code system ex-tooth 4.0.1',
  },
  readInput,
  ({ fdi, universal }) => {
    if (fdi !== null && universal !== null) {
      return err({ ...ONE_KEY, came: 'both' });
    }
    const tooth = findTooth(fdi, universal);
    if (!tooth.ok) return tooth;
    const form = (code: number) => ((fdi ?? universal)?.asText === true ? String(code) : code);
    return ok({
      fdi: form(tooth.value.fdi),
      universal: form(tooth.value.universal),
      palmer: tooth.value.palmer,
      name: tooth.value.name,
    });
  },
);
