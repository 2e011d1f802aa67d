/** A sheet from its draft, or what keeps it from being kept, field by field. */
import { unreachable } from '../base/assert.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { isCalendarDate } from './calendar-date.ts';
import { otherNumbers } from './check-quotes.ts';
import { TEXT_LENGTH_MAX } from './schema-parts.ts';
import { countedLines, type DraftLine, type SheetDraft } from './sheet-draft.ts';
import { readSheetEntry, type SheetEntryRefusal } from './sheet-entry.ts';
import { parseSheet } from './sheet-schema.ts';
import {
  type ProductSheet,
  type SheetLine,
  type SheetReading,
  TEMPERED_GROUPS,
  UNIT_MS,
} from './sheet-types.ts';

export type SheetField =
  | 'materialClass'
  | 'document'
  | 'revision'
  | 'date'
  | 'text'
  | 'temperature'
  | 'asWritten';

export type SheetFault =
  | SheetEntryRefusal
  | 'needed'
  | 'same-revision'
  | 'no-date'
  | 'same-words'
  | 'other-number'
  | 'words-not-compared'
  | 'over-most'
  | 'too-long';

/** What is wrong with one field of the draft; `line` is null for the head of the sheet. */
export interface SheetFieldProblem {
  readonly line: string | null;
  readonly field: SheetField;
  readonly fault: SheetFault;
}

const head = (field: SheetField, fault: SheetFault): SheetFieldProblem => ({
  line: null,
  field,
  fault,
});

function headProblems(draft: SheetDraft): readonly SheetFieldProblem[] {
  const { materialClass, document, revision, before, kind, date } = draft;
  const needed = Object.entries({ materialClass, document, revision } as const).flatMap(
    ([name, text]): SheetFieldProblem[] => {
      const field = name as 'materialClass' | 'document' | 'revision';
      if (text.trim() === '') return [head(field, 'needed')];
      return text.trim().length > TEXT_LENGTH_MAX ? [head(field, 'too-long')] : [];
    },
  );
  const isSame = kind === 'revision' && revision.trim() !== '' && revision.trim() === before.trim();
  return [
    ...needed,
    ...(isSame ? [head('revision', 'same-revision')] : []),
    ...(date !== '' && !isCalendarDate(date) ? [head('date', 'no-date')] : []),
  ];
}

const temperatureOf = (text: string) => readSheetEntry(text, 'C');

/** A draft would be refused for such a quotation later: it is told where it is typed. */
function givesOther({ unit, asWritten }: DraftLine, value: number): boolean {
  const unitMs = UNIT_MS[unit];
  if (unitMs !== null) {
    const inMs = { value: Math.round(value * unitMs), unit: 'ms' } as const;
    return otherNumbers(asWritten, inMs).length > 0;
  }
  if (unit === 'coats') return otherNumbers(asWritten, { value, unit: 'count' }).length > 0;
  return unit === 'J/cm2' && otherNumbers(asWritten, { value, unit }).length > 0;
}

/** Words of the revision before, behind another number, are not the words of this one. */
function wordFault(line: DraftLine, value: number | null): SheetFault | null {
  const { was, asWritten, areWordsRead } = line;
  if (asWritten.trim() === '') return 'needed';
  if (asWritten.trim().length > TEXT_LENGTH_MAX) return 'too-long';
  const isChanged =
    was !== null && value !== null && (value !== was.value || line.unit !== was.unit);
  if (isChanged && asWritten.trim() === was.asWritten) return 'same-words';
  if (value !== null && givesOther(line, value)) return 'other-number';
  return areWordsRead ? null : 'words-not-compared';
}

/** What is wrong with one line; nothing while it was not typed. */
function lineProblems(line: DraftLine): readonly SheetFieldProblem[] {
  if (line.answer !== 'typed') return [];
  const at = (field: SheetField, fault: SheetFault): SheetFieldProblem => ({
    line: line.id,
    field,
    fault,
  });
  const value = readSheetEntry(line.text, line.unit);
  const words = wordFault(line, value.ok ? value.value : null);
  const isTempered = TEMPERED_GROUPS.has(line.group) && line.temperature.trim() !== '';
  const temperature = isTempered ? temperatureOf(line.temperature) : ok(0);
  return [
    ...(value.ok ? [] : [at('text', value.error)]),
    ...(temperature.ok ? [] : [at('temperature', temperature.error)]),
    ...(words === null ? [] : [at('asWritten', words)]),
  ];
}

const given = <K extends string>(key: K, text: string) =>
  text.trim() === '' ? {} : { [key]: text.trim() };

/** A line as the revision before has it, read in this one by whoever is named; by nobody when null. */
function carried(was: SheetLine, o: Pick<SheetLine, 'spots'> & { read: SheetReading | null }) {
  const { read: _, ...line } = was;
  return { ...line, spots: o.spots, ...(o.read !== null && { read: o.read }) };
}

function typedLine(line: DraftLine): SheetLine | null {
  const value = readSheetEntry(line.text, line.unit);
  if (!value.ok || line.read === null) return null;
  const { id, group, unit, bound, spots, read } = line;
  const temperature = TEMPERED_GROUPS.has(group) ? temperatureOf(line.temperature) : err('empty');
  return {
    id,
    group,
    ...given('title', line.title),
    value: value.value,
    unit,
    bound,
    ...(temperature.ok && { temperatureC: temperature.value }),
    asWritten: line.asWritten.trim(),
    ...given('page', line.page),
    spots,
    read,
  };
}

/** The line as it is kept; null for one that is gone, or cannot be read yet. */
function finishedLine(line: DraftLine): SheetLine | null {
  const { answer, was, spots, read } = line;
  switch (answer) {
    case 'gone':
      return null;
    case 'typed':
      return typedLine(line);
    case 'open':
      return was === null ? null : carried(was, { spots, read: null });
    case 'kept':
    case 'same':
      return was === null ? null : carried(was, { spots, read });
    default:
      return unreachable(answer);
  }
}

/** Lines of one thing under one temperature, whose least must not be above its most. */
const thing = ({ group, title = '', unit, temperatureC }: SheetLine): string =>
  JSON.stringify([
    group,
    title.toLowerCase(),
    UNIT_MS[unit] === null ? unit : 'time',
    temperatureC,
  ]);

const ORDER = { least: 0, target: 1, most: 2 } as const;

const size = ({ value, unit }: SheetLine): number => value * (UNIT_MS[unit] ?? 1);

/** Numbers of one thing that contradict each other: a least above a most. */
function crossedProblems(lines: readonly SheetLine[]): readonly SheetFieldProblem[] {
  return lines.flatMap((line): SheetFieldProblem[] => {
    const isOver = lines.some(
      (other) =>
        thing(other) === thing(line) &&
        ORDER[other.bound] > ORDER[line.bound] &&
        size(other) < size(line),
    );
    return isOver ? [{ line: line.id, field: 'text', fault: 'over-most' }] : [];
  });
}

/** Everything that is wrong with a draft, in the order of the page. */
export function sheetProblems(draft: SheetDraft): readonly SheetFieldProblem[] {
  const lines = countedLines(draft).flatMap((line) => finishedLine(line) ?? []);
  return [...headProblems(draft), ...draft.lines.flatMap(lineProblems), ...crossedProblems(lines)];
}

/** The sheet of a draft. Errors: `sheet-problems`, and what the parser says. */
export function finishSheet(draft: SheetDraft): Result<ProductSheet, Problem> {
  const [first] = sheetProblems(draft);
  if (first !== undefined) {
    const place = `sheet.${first.line ?? ''}.${first.field}`;
    return err(problem(place, 'a sheet without problems', first.fault, 'sheet-problems'));
  }
  const identifiers = [...new Set(draft.identifiers.split(/\s+/).filter((one) => one !== ''))];
  const parsed = parseSheet({
    format: 'lutewatch-sheet',
    formatVersion: 1,
    id: draft.id,
    materialClass: draft.materialClass.trim(),
    document: draft.document.trim(),
    revision: draft.revision.trim(),
    ...given('date', draft.date),
    ...given('pages', draft.pages),
    ...(identifiers.length > 0 && { deviceIdentifiers: identifiers }),
    lines: countedLines(draft).flatMap((line) => finishedLine(line) ?? []),
  });
  return parsed.ok ? parsed : err(parsed.error[0]);
}
