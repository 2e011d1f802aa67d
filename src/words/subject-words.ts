/** How teeth, units, contacts and portions of cement are called in the notation of the case. */
import { palmerPlain, toothByFdi } from '../calc/tooth.ts';
import type { CaseFile, Notation } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { bareId, scopeOf } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';
import { subject as english, surface } from './en/subject.ts';
import { spoken } from './language.ts';

const words = spoken('subject', english);

export const SURFACE_WORDS = spoken('surface', surface);

const ALL_FROM = 5;

/** An ISO 3950 number in the wanted notation; as it came when it is none. */
export function toothLabel(fdi: string, notation: Notation): string {
  const tooth = toothByFdi(Number(fdi));
  if (!tooth) return fdi;
  switch (notation) {
    case 'fdi':
      return fdi;
    case 'universal':
      return String(tooth.universal);
    case 'palmer':
      return palmerPlain(tooth);
  }
}

/** ISO 3950: the second digit counts from the midline; up to 3 a tooth bites with an edge or a tip. */
const LAST_FRONT_TOOTH = 3;
const isFront = (fdi: string): boolean => Number(fdi.slice(-1)) <= LAST_FRONT_TOOTH;

/**
 * What the biting surface is called on these teeth: incisors and canines have an incisal edge or a
 * cusp tip, premolars and molars an occlusal surface. Where they are of both kinds, or none is named,
 * it keeps the word of the protocol.
 */
export function surfaceOn(surface: Surface, teeth: readonly string[]): string {
  const isBiting = surface === 'incisal' || surface === 'occlusal';
  if (!isBiting || teeth.length === 0) return SURFACE_WORDS[surface];
  if (teeth.every(isFront)) return SURFACE_WORDS.incisal;
  return teeth.some(isFront) ? SURFACE_WORDS[surface] : SURFACE_WORDS.occlusal;
}

/** The teeth that these subjects stand on; none for a mix or the case. */
export function teethUnder(
  subjects: readonly SubjectId[],
  { units }: Pick<CaseFile, 'units'>,
): readonly string[] {
  return subjects.flatMap((subject) => {
    const id = bareId(subject);
    if (scopeOf(subject) === 'tooth') return [id];
    if (scopeOf(subject) !== 'unit') return [];
    return units.find((unit) => unit.id === id)?.teeth ?? [id];
  });
}

/** "upper right lateral incisor"; the number itself when it is no tooth. */
export function toothName(fdi: string): string {
  const tooth = toothByFdi(Number(fdi));
  if (!tooth) return fdi;
  const { jaw, side, palmer } = tooth;
  return words.toothName({ jaw, side, position: palmer.position });
}

type UnitNaming = Pick<CaseFile, 'units' | 'notation'>;

/** `12`, `12/11` for a contact, `portion 1`; empty for the case. */
export function subjectLabel(subject: SubjectId, naming: UnitNaming): string {
  const id = bareId(subject);
  const { notation } = naming;
  switch (scopeOf(subject)) {
    case 'case':
      return '';
    case 'tooth':
      return toothLabel(id, notation);
    case 'unit': {
      const unit = naming.units.find((u) => u.id === id);
      return (unit?.teeth ?? [id]).map((t) => toothLabel(t, notation)).join('–');
    }
    case 'contact':
      return id
        .split('-')
        .map((t) => toothLabel(t, notation))
        .join('/');
    case 'mix':
      return words.portion(id);
  }
}

/** What a heading says above what is about one mix: "Portion 2". */
export function portionTitle(mix: SubjectId): string {
  return words.portionAlone(bareId(mix));
}

/** `12`, `12, 11, 21`, `8 units`. */
export function subjectsLabel(subjects: readonly SubjectId[], naming: UnitNaming): string {
  const first = subjects[0];
  if (first === undefined) return '';
  if (subjects.length < ALL_FROM) return words.few(subjects.map((s) => subjectLabel(s, naming)));
  return words.many[scopeOf(first)](subjects.length);
}
