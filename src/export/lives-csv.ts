/**
 * Lives and visits as a table: one row for each unit at each visit, and one for a life without a visit. What is
 * said of the bonding stands as it stood when the case was signed. Days are calendar days of the clinic;
 * `_day` counts whole days from the bonding. No patient name: there is none.
 */
import { daysBetween } from '../outcomes/days.ts';
import type { Grade, LimitState, UnitFound } from '../outcomes/follow-up-types.ts';
import type { EndPoint } from '../outcomes/life-types.ts';
import { END_POINTS } from '../outcomes/vocabulary.ts';
import { worst } from './bonded-limits.ts';
import { type Column, csv } from './csv.ts';
import { type FollowUpRow, type FollowUpSource, followUpRows } from './follow-up-rows.ts';
import { utc } from './utc.ts';

type Row = FollowUpRow;

const listed = (texts: readonly string[]): string | null => texts.join('; ') || null;

const yesNo = (is: boolean): string => (is ? 'yes' : 'no');

/** Of a case that was deleted there is none. */
const chartOf = ({ origin, bonded }: Row): string | null =>
  origin === 'left' ? null : bonded.patient;

const caseColumns: readonly Column<Row>[] = [
  { name: 'case', of: ({ followUp }) => followUp.caseId },
  { name: 'origin', of: ({ origin }) => origin },
  { name: 'chart_reference', of: chartOf },
  // One writing for one patient, as the figures take it.
  { name: 'patient_cluster', of: ({ bonded, life }) => life?.patient ?? bonded.patient },
  { name: 'title', of: ({ bonded }) => bonded.title || null },
  { name: 'life', of: ({ life }) => life?.id ?? null },
  { name: 'unit', of: ({ unit, seen }) => unit?.unit ?? seen?.found.unit ?? null },
  { name: 'teeth_fdi', of: ({ unit }) => unit?.teeth.join(' ') ?? null },
  { name: 'bridge', of: ({ unit }) => (unit === null ? null : yesNo(unit.isBridge)) },
  { name: 'restoration', of: ({ unit }) => unit?.restoration ?? null },
  { name: 'material_class', of: ({ unit }) => unit?.material ?? null },
  { name: 'bonded_local', of: ({ life }) => life?.bondedOn ?? null },
  { name: 'entry_day', of: ({ life }) => life?.entryDay ?? null },
  { name: 'possible_day', of: ({ life }) => life?.possibleDays ?? null },
];

/** What bounds a life for one end point; `left-out` where it was over before it was looked after. */
const endColumns = (endPoint: EndPoint): readonly Column<Row>[] => [
  {
    name: `${endPoint}_event`,
    of: ({ life }) => (life === null ? null : (life.ends[endPoint]?.event ?? 'left-out')),
  },
  { name: `${endPoint}_after_day`, of: ({ life }) => life?.ends[endPoint]?.afterDay ?? null },
  { name: `${endPoint}_by_day`, of: ({ life }) => life?.ends[endPoint]?.byDay ?? null },
];

const limitsIn = ({ life }: Row, state: LimitState): string | null =>
  listed((life?.unit.limits ?? []).flatMap((one) => (one.state === state ? [one.limit] : [])));

/** All of them together; null where no limit is known. */
function limitsOf({ life }: Row): LimitState | null {
  const limits = life?.unit.limits ?? [];
  return limits.length === 0 ? null : worst(limits.map(({ state }) => state));
}

/** Of what was bonded again without a record nothing but the unit is known. */
const recorded = ({ life, bonded }: Row) =>
  life === null || life.revision === null ? undefined : bonded.protocol;

const bondingColumns: readonly Column<Row>[] = [
  { name: 'limits', of: limitsOf },
  { name: 'limits_kept', of: (row) => limitsIn(row, 'kept') },
  { name: 'limits_broken', of: (row) => limitsIn(row, 'broken') },
  { name: 'limits_cannot_tell', of: (row) => limitsIn(row, 'cannot-tell') },
  { name: 'protocol', of: (row) => recorded(row)?.id ?? null },
  { name: 'protocol_revision', of: (row) => recorded(row)?.revision ?? null },
  { name: 'protocol_hash', of: (row) => recorded(row)?.hash ?? null },
  {
    name: 'lots',
    of: ({ life }) =>
      listed((life?.lots ?? []).map(({ materialClass, lot }) => `${materialClass}: ${lot}`)),
  },
];

const retainersOf = ({ retainers = [] }: UnitFound): string | null =>
  listed(retainers.map(({ tooth, findings }) => `${tooth}: ${findings.join(' ')}`));

const gradeWords = ({ scale, year, item, grade }: Grade): string =>
  `${[scale, String(year), item].filter((part) => part !== '').join(', ')}: ${grade}`;

const visitColumns: readonly Column<Row>[] = [
  { name: 'visit_local', of: ({ seen }) => seen?.kept.visit.onDay ?? null },
  {
    name: 'visit_day',
    of: ({ seen, life }) =>
      seen && life ? daysBetween(life.bondedOn, seen.kept.visit.onDay) : null,
  },
  { name: 'examiner', of: ({ seen }) => seen?.kept.visit.examiner || null },
  { name: 'own_work', of: ({ seen }) => seen && yesNo(seen.kept.visit.isOwnWork) },
  { name: 'findings', of: ({ seen }) => seen?.found.findings.join(' ') ?? null },
  { name: 'retainers', of: ({ seen }) => seen && retainersOf(seen.found) },
  { name: 'done', of: ({ seen }) => seen?.found.done ?? null },
  { name: 'bonded_again_in', of: ({ seen }) => seen?.found.bondedAgainIn ?? null },
  { name: 'stated_local', of: ({ seen }) => seen?.found.statedDay ?? null },
  { name: 'grades', of: ({ seen }) => listed((seen?.found.grades ?? []).map(gradeWords)) },
  { name: 'note', of: ({ seen }) => seen?.kept.visit.note ?? null },
  { name: 'noted_by', of: ({ seen }) => seen?.kept.by ?? null },
  // The instant at which a deleted case was left behind would lead to it.
  {
    name: 'noted_utc',
    of: ({ seen, origin }) => (seen && origin !== 'left' ? utc(seen.kept.atWallMs) : null),
  },
  { name: 'entry', of: ({ seen }) => seen?.kept.id ?? null },
  { name: 'corrections', of: ({ seen }) => seen?.kept.was.length ?? null },
  {
    name: 'told_differently',
    of: ({ seen, followUp }) =>
      seen &&
      yesNo(followUp.differing.some(({ sides }) => sides.some(({ id }) => id === seen.kept.id))),
  },
  // Of this unit: visits that cannot all be so, until one of them is corrected.
  { name: 'contradicts', of: ({ contradicts }) => listed(contradicts) },
  { name: 'visits_struck', of: ({ followUp }) => followUp.struck.length },
];

const COLUMNS: readonly Column<Row>[] = [
  ...caseColumns,
  ...END_POINTS.flatMap(endColumns),
  ...bondingColumns,
  ...visitColumns,
];

/** Every life with its visits. The same follow-up and day always give the same bytes. */
export const livesCsv = (source: FollowUpSource): string => csv(COLUMNS, followUpRows(source));
