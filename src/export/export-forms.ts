/**
 * Every form a record can be handed on in, under one roof: what it is called, which kind of file it
 * makes, and the function that makes it. Screens offer these, the command line names them.
 */

import { present } from '../base/assert.ts';
import type { FormId } from '../words/codes.ts';
import { againstPlan } from './against-plan.ts';
import { caseCalendar } from './case-calendar.ts';
import { type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import type { RecordSource } from './export-source.ts';
import { fhirJson } from './fhir-bundle.ts';
import { journalJson } from './journal-text.ts';
import { recordFacts } from './record-facts.ts';
import { recordText } from './record-text.ts';
import type { RecordFacts } from './record-types.ts';
import { stepsCsv } from './steps-csv.ts';
import { windowsCsv } from './windows-csv.ts';

interface ExportForm {
  readonly id: FormId;
  /** One line for people. */
  readonly about: string;
  readonly mediaType: string;
  /** The end of the file's name, without a dot in front. */
  readonly ending: string;
}

interface ExportOptions {
  /** What the clinic says about such files; nothing when left out. */
  readonly clinic?: ExportClinic;
  /** When the file is made: no alarm of a calendar is in the past. Else the last entry of the journal. */
  readonly nowMs?: number;
}

interface Maker extends ExportForm {
  readonly make: (facts: RecordFacts, source: RecordSource, o: ExportOptions) => string;
}

/** Spreadsheets that do not ask take a file that begins with this for UTF-8. */
const BYTE_ORDER_MARK = '\ufeff';

const table = (text: string, { clinic = NO_CLINIC }: ExportOptions): string =>
  clinic.byteOrderMark ? `${BYTE_ORDER_MARK}${text}` : text;

const MAKERS: readonly Maker[] = [
  {
    id: 'text',
    about: 'the record as plain text',
    mediaType: 'text/plain;charset=utf-8',
    ending: 'record.txt',
    make: (facts, source) => recordText(facts, againstPlan(source, facts)),
  },
  {
    id: 'json',
    about: 'the whole journal, to keep or to read back',
    mediaType: 'application/json',
    ending: 'journal.json',
    make: ({ caseId }, { entries, apart = [], secondEnds = [] }) =>
      journalJson({ caseId, entries, apart, secondEnds }),
  },
  {
    id: 'facts',
    about: 'everything the record says, as JSON',
    mediaType: 'application/json',
    ending: 'record.json',
    make: (facts, source) =>
      `${JSON.stringify({ ...facts, againstPlan: againstPlan(source, facts) }, null, 2)}\n`,
  },
  {
    id: 'csv-steps',
    about: 'a table of the steps',
    mediaType: 'text/csv;charset=utf-8;header=present',
    ending: 'steps.csv',
    make: (facts, _, o) => table(stepsCsv(facts), o),
  },
  {
    id: 'csv-windows',
    about: 'a table of the windows with their margins',
    mediaType: 'text/csv;charset=utf-8;header=present',
    ending: 'windows.csv',
    make: (facts, _, o) => table(windowsCsv(facts), o),
  },
  {
    id: 'fhir',
    about: 'a HL7 FHIR R4 bundle',
    mediaType: 'application/fhir+json',
    ending: 'fhir.json',
    make: (facts, _, { clinic }) => fhirJson(facts, clinic),
  },
  {
    id: 'ical',
    about: 'preparation, appointment and finishing visit for a calendar',
    mediaType: 'text/calendar;charset=utf-8',
    ending: 'calendar.ics',
    make: (facts, _, o) => caseCalendar(facts, o),
  },
];

export const EXPORT_FORMS: readonly ExportForm[] = MAKERS;

/** A file, ready to be shared or saved. */
interface ExportFile {
  /** `SB-0422-2026-11-27-steps.csv`; only letters, digits, hyphens and dots. */
  readonly name: string;
  readonly mediaType: string;
  readonly text: string;
}

function nameOf(facts: RecordFacts, { ending }: ExportForm): string {
  const chart = facts.chartRef.replaceAll(/[^A-Za-z0-9]+/g, '-').replaceAll(/^-|-$/g, '');
  const day = facts.openedLocal.slice(0, facts.openedLocal.indexOf('T')).replace('+', '');
  return [chart, day, ending].filter((part) => part !== '').join('-');
}

/** Makes one form of a record. The same source and options always give the same file. */
export function exportFile(
  source: RecordSource,
  id: FormId,
  options: ExportOptions = {},
): ExportFile {
  const maker = present(
    MAKERS.find((m) => m.id === id),
    `form ${id}`,
  );
  const facts = recordFacts(source);
  return {
    name: nameOf(facts, maker),
    mediaType: maker.mediaType,
    text: maker.make(facts, source, options),
  };
}
