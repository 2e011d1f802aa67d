/** How teeth, units, contacts and mixes are called in the notation of the case. */
import { palmerPlain, toothByFdi } from '../calc/tooth.ts';
import type { SubjectId } from '../engine/types.ts';
import { bareId, scopeOf } from '../protocol/subjects.ts';
import type { CaseFile, Notation, Surface } from '../protocol/types.ts';

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

/** "maxillary right lateral incisor"; the number itself when it is no tooth. */
export function toothName(fdi: string): string {
  return toothByFdi(Number(fdi))?.name ?? fdi;
}

type Naming = Pick<CaseFile, 'units' | 'notation'>;

/** `12`, `contact 12–11`, `mix 1`; empty for the case. */
export function subjectLabel(subject: SubjectId, naming: Naming): string {
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
      return `mix ${id}`;
  }
}

const PLURAL = { case: '', tooth: 'teeth', unit: 'units', contact: 'contacts', mix: 'mixes' };

/** `12`, `12, 11, 21`, `8 units`. */
export function subjectsLabel(subjects: readonly SubjectId[], naming: Naming): string {
  const first = subjects[0];
  if (first === undefined) return '';
  if (subjects.length < ALL_FROM) return subjects.map((s) => subjectLabel(s, naming)).join(', ');
  return `${subjects.length} ${PLURAL[scopeOf(first)]}`;
}

export const SURFACE_WORDS: Readonly<Record<Surface, string>> = {
  facial: 'facial',
  incisal: 'incisal',
  occlusal: 'occlusal',
  mesial: 'mesial',
  distal: 'distal',
  lingual: 'lingual',
};
