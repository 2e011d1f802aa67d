/**
 * A sheet while it is read: every field as it is typed, and for each line what was answered. A new
 * revision begins with the lines of the one before; each of them is answered on its own, and what
 * nobody answered is carried along unread.
 */

import { readSheetEntry, wordsWith } from './sheet-entry.ts';
import type {
  ProductSheet,
  SheetBound,
  SheetGroup,
  SheetLine,
  SheetReading,
  SheetSpot,
  SheetUnit,
} from './sheet-types.ts';

/** `kept`: read in this revision already, before the draft was begun. */
export const LINE_ANSWERS = ['open', 'kept', 'same', 'typed', 'gone'] as const;
type LineAnswer = (typeof LINE_ANSWERS)[number];

export interface DraftLine {
  readonly id: string;
  readonly group: SheetGroup;
  readonly title: string;
  readonly bound: SheetBound;
  readonly unit: SheetUnit;
  readonly temperature: string;
  readonly text: string;
  readonly asWritten: string;
  readonly page: string;
  readonly spots: readonly SheetSpot[];
  /** The line as the revision before has it; null for one that was added. */
  readonly was: SheetLine | null;
  readonly answer: LineAnswer;
  /**
   * False while the words are only a proposal that nobody compared with the sheet; with nobody in
   * `read`, the whole line was typed at another desk.
   */
  readonly areWordsRead: boolean;
  readonly read: SheetReading | null;
}

/** `new`: a document that was not here. `revision`: a later state of it. `go-on`: the same state, read further. */
export const DRAFT_KINDS = ['new', 'revision', 'go-on'] as const;

export interface SheetDraft {
  readonly id: string;
  readonly kind: (typeof DRAFT_KINDS)[number];
  readonly materialClass: string;
  readonly document: string;
  readonly revision: string;
  readonly date: string;
  readonly pages: string;
  /** Device identifiers with blanks between them. */
  readonly identifiers: string;
  /** The revision that it began from; empty for a new document. */
  readonly before: string;
  /** What the lines were read of before the draft was begun; only where the same state is read further. */
  readonly readOf?: { readonly document: string; readonly materialClass: string };
  readonly lines: readonly DraftLine[];
}

/** Who sits at the desk, and the day. */
export interface Reader {
  readonly by: string;
  readonly on: string;
}

export function newSheetDraft(id: string): SheetDraft {
  return {
    id,
    kind: 'new',
    materialClass: '',
    document: '',
    revision: '',
    date: '',
    pages: '',
    identifiers: '',
    before: '',
    lines: [],
  };
}

function lineOf(line: SheetLine, answer: LineAnswer): DraftLine {
  const { id, group, title = '', bound, unit, temperatureC, value, asWritten, page = '' } = line;
  return {
    id,
    group,
    title,
    bound,
    unit,
    temperature: temperatureC === undefined ? '' : String(temperatureC),
    text: String(value),
    asWritten,
    page,
    spots: line.spots,
    was: line,
    answer,
    areWordsRead: true,
    read: answer === 'kept' ? (line.read ?? null) : null,
  };
}

function draftFrom(sheet: ProductSheet, lines: readonly DraftLine[]): Omit<SheetDraft, 'kind'> {
  const { id, materialClass, document, revision, date = '', pages = '' } = sheet;
  const identifiers = (sheet.deviceIdentifiers ?? []).join(' ');
  return {
    id,
    materialClass,
    document,
    revision,
    date,
    pages,
    identifiers,
    before: revision,
    lines,
  };
}

/** The same document in a new revision: every line stands open. */
export function nextRevisionDraft(sheet: ProductSheet): SheetDraft {
  const lines = sheet.lines.map((line) => lineOf(line, 'open'));
  return { ...draftFrom(sheet, lines), kind: 'revision', revision: '', date: '' };
}

/** The same revision, to read what was left open and to mend what was mistyped. */
export function goOnDraft(sheet: ProductSheet): SheetDraft {
  const lines = sheet.lines.map((line) => lineOf(line, line.read === undefined ? 'open' : 'kept'));
  const { document, materialClass } = sheet;
  return { ...draftFrom(sheet, lines), kind: 'go-on', readOf: { document, materialClass } };
}

/** A line that the document has and the sheet had not. */
export function addedLine(o: {
  readonly id: string;
  readonly group: SheetGroup;
  readonly unit: SheetUnit;
}): DraftLine {
  return {
    ...o,
    title: '',
    bound: 'target',
    temperature: '',
    text: '',
    asWritten: '',
    page: '',
    spots: [],
    was: null,
    answer: 'typed',
    areWordsRead: true,
    read: null,
  };
}

/** The number stands in the new revision as it stood in the one before. */
export function answerSame(line: DraftLine, { by, on }: Reader): DraftLine {
  if (line.was === null) return line;
  const { spots } = line;
  return { ...lineOf(line.was, 'same'), spots, read: { how: 'same', by, on } };
}

/** The document has no such line any more. */
export function answerGone(line: DraftLine): DraftLine {
  return { ...line, answer: 'gone', read: null };
}

/** Back to before it was answered. */
export function answerOpen(line: DraftLine): DraftLine {
  const { was, spots } = line;
  if (was === null) return line;
  return { ...lineOf(was, 'open'), spots };
}

/** Another number is about to be typed: its field is empty, its words and page are those of before. */
export function beginTyping(line: DraftLine, { by, on }: Reader): DraftLine {
  if (line.answer === 'typed') return line;
  return { ...line, answer: 'typed', text: '', read: { how: 'typed', by, on } };
}

/** The words that are proposed for what is typed. */
function proposedWords({ was, unit }: DraftLine, text: string): string | null {
  const read = readSheetEntry(text, unit);
  if (was === null || !read.ok) return null;
  return wordsWith(was.asWritten, { was: was.value, now: read.value });
}

/** Whether what is typed is a number, and another than that of the revision before. */
function isOther({ was, text, unit }: DraftLine): boolean {
  const read = readSheetEntry(text, unit);
  return was !== null && read.ok && (read.value !== was.value || unit !== was.unit);
}

/** The page of before goes with the number of before; one that was typed stays. */
function withPage(line: DraftLine, before: DraftLine): DraftLine {
  const page = line.was?.page ?? '';
  const [is, was] = [isOther(line), isOther(before)];
  if (is && !was && line.page === page) return { ...line, page: '' };
  return !is && was && line.page === '' ? { ...line, page } : line;
}

/** Chooses the unit of the number. */
export function typeUnit(line: DraftLine, unit: SheetUnit): DraftLine {
  return withPage({ ...line, unit }, line);
}

/** Types the number. Words that nobody touched follow it, as a proposal. */
export function typeNumber(line: DraftLine, text: string, { by, on }: Reader): DraftLine {
  const { was, asWritten } = line;
  const typed: DraftLine = { ...line, text, answer: 'typed', read: { how: 'typed', by, on } };
  const next = withPage(typed, line);
  if (was === null) return next;
  const isUntouched = asWritten === was.asWritten || asWritten === proposedWords(line, line.text);
  if (!isUntouched) return next;
  return { ...next, asWritten: proposedWords(line, text) ?? was.asWritten, areWordsRead: false };
}

/** Types the words: whoever does has read them. A number of another desk is still to be compared then. */
export function typeWords(line: DraftLine, asWritten: string): DraftLine {
  return { ...line, asWritten, areWordsRead: line.areWordsRead || line.read !== null };
}

/** The words that are proposed, or were typed at another desk, stand in the document like this. */
export function compareWords(line: DraftLine, { by, on }: Reader): DraftLine {
  return { ...line, areWordsRead: true, read: line.read ?? { how: 'typed', by, on } };
}

/** Whether the draft still is of the document that was read before it was begun. */
function isSameState({ kind, revision, before, document, materialClass, readOf }: SheetDraft) {
  return (
    kind === 'go-on' &&
    revision.trim() === before.trim() &&
    document.trim() === readOf?.document.trim() &&
    materialClass.trim() === readOf.materialClass.trim()
  );
}

/** The lines as they count: in another revision, document or class nothing was read before. */
export function countedLines(draft: SheetDraft): readonly DraftLine[] {
  if (isSameState(draft)) return draft.lines;
  return draft.lines.map((line) => (line.answer === 'kept' ? answerOpen(line) : line));
}

/** Whether lines count as not read because the draft became one of another revision, document or class. */
export const isOfAnotherState = (draft: SheetDraft): boolean =>
  !isSameState(draft) && draft.lines.some(({ answer }) => answer === 'kept');

/** How many lines still wait for an answer. */
export const openLines = (draft: SheetDraft): number =>
  countedLines(draft).filter(({ answer }) => answer === 'open').length;
