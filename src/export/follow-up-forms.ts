/** Every form a follow-up can be handed on in: its kind of file, and the function that makes it. */
import { originOf } from '../outcomes/origin.ts';
import { type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import { fhirFollowUpJson } from './fhir-follow-up.ts';
import { type FollowUpEntry, followUpFileText } from './follow-up-json.ts';
import type { FollowUpSource } from './follow-up-rows.ts';
import { livesCsv } from './lives-csv.ts';

export const FOLLOW_UP_FORMS = ['csv', 'fhir'] as const;

export type FollowUpForm = (typeof FOLLOW_UP_FORMS)[number];

export interface FollowUpExportFile {
  /** `lives-2026-11-30.csv`; of one case with its chart reference in front. */
  readonly name: string;
  readonly mediaType: string;
  readonly text: string;
}

const MEDIA_TYPES: Readonly<Record<FollowUpForm | 'json', string>> = {
  csv: 'text/csv;charset=utf-8;header=present',
  fhir: 'application/fhir+json',
  json: 'application/json',
};

const ENDINGS: Readonly<Record<FollowUpForm | 'json', string>> = {
  csv: 'csv',
  fhir: 'fhir.json',
  json: 'entries.json',
};

function nameOf({ followUps, today, only }: FollowUpSource, form: FollowUpForm | 'json'): string {
  const own = followUps.find(({ caseId }) => caseId === only && originOf(caseId) !== 'left');
  const chart = own?.bonded?.patient ?? '';
  const plain = chart.replaceAll(/[^A-Za-z0-9]+/g, '-').replaceAll(/^-|-$/g, '');
  return [...[plain].filter((part) => part !== ''), 'lives', `${today}.${ENDINGS[form]}`].join('-');
}

/** Spreadsheets that do not ask take a file that begins with this for UTF-8. */
const BYTE_ORDER_MARK = '\ufeff';

/** Makes one form of a follow-up. The same follow-up, day and clinic always give the same file. */
export function followUpFile(
  source: FollowUpSource,
  form: FollowUpForm,
  clinic: ExportClinic = NO_CLINIC,
): FollowUpExportFile {
  const mark = form === 'csv' && clinic.byteOrderMark ? BYTE_ORDER_MARK : '';
  const text = form === 'csv' ? livesCsv(source) : fhirFollowUpJson(source, clinic);
  return { name: nameOf(source, form), mediaType: MEDIA_TYPES[form], text: `${mark}${text}` };
}

/** The entries of these follow-ups as a file for keeping, which the terminal reads. */
export const followUpEntriesFile = (
  source: FollowUpSource,
  entries: readonly Pick<FollowUpEntry, 'id' | 'item'>[],
): FollowUpExportFile => ({
  name: nameOf(source, 'json'),
  mediaType: MEDIA_TYPES.json,
  text: followUpFileText({ entries, today: source.today }),
});
