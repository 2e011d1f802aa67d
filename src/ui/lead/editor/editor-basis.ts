/** The fields of a basis while they are typed, and the basis they make. */
import type { Basis, Source } from '../../../protocol/types.ts';

export interface BasisEntry {
  readonly kind: Basis['kind'];
  readonly document: string;
  readonly revision: string;
  readonly page: string;
  readonly asWritten: string;
  readonly confirmedBy: string;
  readonly confirmedOn: string;
  readonly reviewDue: string;
  readonly source: string;
  readonly note: string;
}

/** What the fields begin with: what is there, and for a new instruction who is at the desk today. */
export function basisEntry(
  basis: Basis | null,
  o: { readonly person: string; readonly today: string; readonly sources: readonly Source[] },
): BasisEntry {
  const empty: BasisEntry = {
    kind: 'instructions',
    document: '',
    revision: '',
    page: '',
    asWritten: '',
    confirmedBy: o.person,
    confirmedOn: o.today,
    reviewDue: '',
    source: o.sources[0]?.id ?? '',
    note: '',
  };
  if (basis === null) return empty;
  if (basis.kind === 'practice') return { ...empty, kind: 'practice', note: basis.note ?? '' };
  if (basis.kind === 'published') {
    return { ...empty, kind: 'published', source: basis.source, note: basis.note ?? '' };
  }
  const { document, revision, page = '', asWritten = '', reviewDue = '' } = basis;
  return { ...empty, document, revision, page, asWritten, reviewDue };
}

const given = <K extends string>(key: K, text: string) =>
  text.trim() === '' ? {} : { [key]: text.trim() };

/** The basis of the fields; null while what belongs to an instruction is missing. */
export function basisOf(entry: BasisEntry): Basis | null {
  if (entry.kind === 'practice') return { kind: 'practice', ...given('note', entry.note) };
  if (entry.kind === 'published') {
    if (entry.source === '') return null;
    return { kind: 'published', source: entry.source, ...given('note', entry.note) };
  }
  const { document, revision, confirmedBy, confirmedOn } = entry;
  const needed = [document, revision, confirmedBy, confirmedOn].map((text) => text.trim());
  if (needed.some((text) => text === '')) return null;
  return {
    kind: 'instructions',
    document: document.trim(),
    revision: revision.trim(),
    ...given('page', entry.page),
    ...given('asWritten', entry.asWritten),
    confirmedBy: confirmedBy.trim(),
    confirmedOn,
    ...given('reviewDue', entry.reviewDue),
  };
}
