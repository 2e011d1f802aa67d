/** The steps of a record as a table: one row for each step on each subject, voided runs last. */
import { type Column, csv } from './csv.ts';
import type { MaterialUse } from './export-source.ts';
import { secondEndColumns } from './record-tablets.ts';
import type { RecordFacts, StepFact, VoidedFact } from './record-types.ts';
import { pressedBy } from './record-who.ts';
import { saidOfStep } from './said-words.ts';

interface Row {
  readonly facts: RecordFacts;
  readonly step: StepFact;
  readonly voided: VoidedFact | null;
}

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0);

/** Null where no light was asked for. */
function light(step: StepFact, pick: (s: StepFact['surfaces'][number]) => number): number | null {
  return step.surfaces.length === 0 ? null : sum(step.surfaces.map(pick));
}

const caseColumns: readonly Column<Row>[] = [
  { name: 'case', of: ({ facts }) => facts.caseId },
  { name: 'chart_reference', of: ({ facts }) => facts.chartRef },
  { name: 'kind', of: ({ facts }) => facts.mode },
  { name: 'protocol', of: ({ facts }) => facts.protocol.id },
  { name: 'protocol_revision', of: ({ facts }) => facts.protocol.revision },
];

const stepColumns: readonly Column<Row>[] = [
  { name: 'stage', of: ({ step }) => step.stage },
  { name: 'step', of: ({ step }) => step.step },
  { name: 'title', of: ({ step }) => step.title },
  { name: 'subject', of: ({ step }) => step.subject },
  { name: 'teeth_fdi', of: ({ step }) => step.teeth.join(' ') },
  { name: 'status', of: ({ step, voided }) => (voided ? 'voided' : step.status) },
  { name: 'by', of: ({ step }) => step.by },
];

const timeColumns: readonly Column<Row>[] = [
  { name: 'start_utc', of: ({ step }) => step.start?.at.fromUtc ?? null },
  { name: 'start_latest_utc', of: ({ step }) => step.start?.at.toUtc ?? null },
  { name: 'end_utc', of: ({ step }) => step.end?.at.fromUtc ?? null },
  { name: 'end_latest_utc', of: ({ step }) => step.end?.at.toUtc ?? null },
  { name: 'start_case_ms', of: ({ step }) => step.start?.at.loMs ?? null },
  { name: 'end_case_ms', of: ({ step }) => step.end?.at.loMs ?? null },
  { name: 'elapsed_min_ms', of: ({ step }) => step.elapsed?.loMs ?? null },
  { name: 'elapsed_max_ms', of: ({ step }) => step.elapsed?.hiMs ?? null },
  { name: 'asked_min_ms', of: ({ step }) => step.asked.minMs },
  { name: 'asked_target_ms', of: ({ step }) => step.asked.targetMs },
  { name: 'asked_max_ms', of: ({ step }) => step.asked.maxMs },
  { name: 'short_by_ms', of: ({ step }) => step.shortByMs },
  { name: 'over_by_ms', of: ({ step }) => step.overByMs },
];

const usedIn = ({ facts, step }: Row): readonly MaterialUse[] =>
  facts.materials.filter((m) =>
    m.usedFor.some((u) => u.step === step.step && u.subject === step.subject),
  );

/** The last day of use of each: of its label, or after opening where that ends before. */
function lotsUseBy(row: Row): string | null {
  const days = usedIn(row).flatMap(({ label, useBy, expiresOn }) => {
    const day = useBy ?? expiresOn;
    return day === null ? [] : [`${label}: ${day}`];
  });
  return days.join('; ') || null;
}

/** Lots that were put down to this step on this subject. */
function lotsOf(row: Row): string | null {
  const used = usedIn(row);
  return used.length === 0 ? null : used.map((m) => `${m.label}: ${m.lot ?? 'no lot'}`).join('; ');
}

const countColumns: readonly Column<Row>[] = [
  {
    name: 'counted',
    of: ({ step }) => (step.asked.count === null ? null : step.counts.length),
  },
  { name: 'counted_asked', of: ({ step }) => step.asked.count },
  { name: 'exposure_given_ms', of: ({ step }) => light(step, (s) => s.givenMs) },
  { name: 'exposure_set_ms', of: ({ step }) => light(step, (s) => s.setMs) },
  { name: 'option', of: ({ step }) => step.optionLabel ?? step.option },
  { name: 'lots', of: lotsOf },
  { name: 'evidence', of: ({ step }) => step.evidence },
  {
    name: 'reason',
    of: ({ step, voided }) => (voided ? voided.voidedBecause : step.reason),
  },
  { name: 'start_press', of: ({ step }) => step.start?.pressed?.press ?? null },
  { name: 'end_press', of: ({ step }) => step.end?.pressed?.press ?? null },
  { name: 'start_moved_by_ms', of: ({ step }) => step.start?.pressed?.movedByMs ?? null },
  { name: 'end_moved_by_ms', of: ({ step }) => step.end?.pressed?.movedByMs ?? null },
  { name: 'voided_by_press', of: ({ voided }) => voided?.voidedByPress ?? null },
];

/** The list, or the step whose press said so. */
function pressedWith(how: StepFact['pressed']): string | null {
  if (how?.kind === 'list') return how.title;
  return how?.kind === 'implied' ? how.by : null;
}

/** Null where nothing is asked of it, or while it is not done and nothing is broken. */
function limitsOf(step: StepFact): string | null {
  const { asked, shortByMs, overByMs, shortPerhaps, overPerhaps } = step;
  const { betweenShortByMs, betweenPerhaps } = step;
  const isShort = shortByMs !== 0 && !shortPerhaps;
  const isOver = overByMs !== 0 && !overPerhaps;
  if (isShort || isOver || (betweenShortByMs !== 0 && !betweenPerhaps)) return 'broken';
  if (shortPerhaps || overPerhaps || betweenPerhaps) return 'may-be-broken';
  const isAsked = asked.minMs !== null || asked.maxMs !== null || asked.betweenMs !== null;
  return isAsked && step.status === 'done' && step.elapsed !== null ? 'kept' : null;
}

/** After all others, so that what is counted off by its place stays where it was. */
const localColumns: readonly Column<Row>[] = [
  { name: 'start_local', of: ({ step }) => step.start?.at.fromLocal ?? null },
  { name: 'start_latest_local', of: ({ step }) => step.start?.at.toLocal ?? null },
  { name: 'end_local', of: ({ step }) => step.end?.at.fromLocal ?? null },
  { name: 'end_latest_local', of: ({ step }) => step.end?.at.toLocal ?? null },
  { name: 'zone', of: ({ facts }) => facts.zone.name },
  { name: 'pressed_by', of: ({ step }) => pressedBy(step).join('; ') || null },
  { name: 'done_by', of: ({ step }) => step.doneBy?.label ?? null },
  { name: 'done_by_role', of: ({ step }) => step.doneBy?.role ?? null },
  { name: 'said', of: ({ facts, step, voided }) => saidOfStep(facts, step, voided) },
  { name: 'start_latest_case_ms', of: ({ step }) => step.start?.at.hiMs ?? null },
  { name: 'end_latest_case_ms', of: ({ step }) => step.end?.at.hiMs ?? null },
  { name: 'pressed', of: ({ step }) => step.pressed?.kind ?? null },
  { name: 'pressed_with', of: ({ step }) => pressedWith(step.pressed) },
  {
    name: 'paced_ms',
    of: ({ step }) => (step.pressed?.kind === 'paced' ? step.pressed.pacedMs : null),
  },
  { name: 'limits', of: ({ step }) => limitsOf(step) },
  { name: 'asked_between_min_ms', of: ({ step }) => step.asked.betweenMs },
  {
    name: 'between_short_by_ms',
    of: ({ step }) => (step.asked.betweenMs === null ? null : step.betweenShortByMs),
  },
  { name: 'lots_use_by', of: lotsUseBy },
  { name: 'protocol_hash', of: ({ facts }) => facts.protocol.hash },
  ...secondEndColumns,
];

const COLUMNS = [...caseColumns, ...stepColumns, ...timeColumns, ...countColumns, ...localColumns];

/** Every step that counts, in the order of the record, then every voided run. */
export function stepsCsv(facts: RecordFacts): string {
  return csv(COLUMNS, [
    ...facts.steps.map((step) => ({ facts, step, voided: null })),
    ...facts.voided.map((voided) => ({ facts, step: voided, voided })),
  ]);
}
