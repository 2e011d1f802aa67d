/** The fields of a basis while they are typed, and the basis they make. */
import type { Basis, Source } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';

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

type Needed = keyof typeof editorWords.basisNeeds;
/** What a basis lacks, in words beside its fields. */
export type BasisProblems = { readonly [K in keyof BasisEntry]?: string };

const NEEDED = ['document', 'revision', 'confirmedBy', 'confirmedOn'] as const;

/** The instruction that a number had when its sheet was opened. */
type Kept = Extract<Basis, { kind: 'instructions' }> | null;

export function keptInstruction(basis: Basis | null): Kept {
  return basis?.kind === 'instructions' ? basis : null;
}

/**
 * The fields once the number is another one: page and quote belong to the number that was there, and
 * come back with it. Document and revision stay as a proposal.
 */
export function entryForNumber(
  entry: BasisEntry,
  o: { readonly kept: Kept; readonly wasChanged: boolean; readonly isChanged: boolean },
): BasisEntry {
  const { kept, wasChanged, isChanged } = o;
  if (kept === null || wasChanged === isChanged) return entry;
  const { page = '', asWritten = '' } = kept;
  if (isChanged) {
    return {
      ...entry,
      page: entry.page === page ? '' : entry.page,
      asWritten: entry.asWritten === asWritten ? '' : entry.asWritten,
    };
  }
  return { ...entry, page: entry.page || page, asWritten: entry.asWritten || asWritten };
}

/** Whether the fields still name the document that the number before was read in. */
const isSameDocument = (entry: BasisEntry, kept: Kept): boolean =>
  kept !== null && entry.document === kept.document && entry.revision === kept.revision;

/**
 * What is missing. A changed number in the document that is proposed has to be looked up there: its page,
 * or the words, are asked for.
 */
export function basisProblems(
  entry: BasisEntry,
  o: { readonly kept: Kept; readonly isChanged: boolean } = { kept: null, isChanged: false },
): BasisProblems {
  if (entry.kind === 'practice') return {};
  const lacks = (key: Needed) =>
    entry[key].trim() === '' ? { [key]: editorWords.basisNeeds[key] } : {};
  if (entry.kind === 'published') return lacks('source');
  const isUnread =
    o.isChanged &&
    isSameDocument(entry, o.kept) &&
    entry.page.trim() === '' &&
    entry.asWritten.trim() === '';
  return {
    ...Object.assign({}, ...NEEDED.map(lacks)),
    ...(isUnread ? { page: editorWords.basisNeeds.page } : {}),
  };
}

const given = <K extends string>(key: K, text: string) =>
  text.trim() === '' ? {} : { [key]: text.trim() };

/** The basis of the fields; null while something is missing. */
export function basisOf(entry: BasisEntry): Basis | null {
  if (entry.kind === 'practice') return { kind: 'practice', ...given('note', entry.note) };
  if (Object.keys(basisProblems(entry)).length > 0) return null;
  if (entry.kind === 'published') {
    return { kind: 'published', source: entry.source, ...given('note', entry.note) };
  }
  const { document, revision, confirmedBy, confirmedOn } = entry;
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
