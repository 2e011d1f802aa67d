/** The windows of a record as a table: one row for each window on each subject that opened it. */
import { type Column, csv } from './csv.ts';
import { secondEndColumns } from './record-tablets.ts';
import type { RecordFacts, WindowFact } from './record-types.ts';
import { saidOfWindow } from './said-words.ts';

interface Row {
  readonly facts: RecordFacts;
  readonly window: WindowFact;
}

/** How the step at one edge was pressed; null where it was pressed for itself. */
const pressedKind = ({ steps }: RecordFacts, key: string): string | null =>
  steps.find((step) => step.key === key)?.pressed?.kind ?? null;

const COLUMNS: readonly Column<Row>[] = [
  { name: 'case', of: ({ facts }) => facts.caseId },
  { name: 'chart_reference', of: ({ facts }) => facts.chartRef },
  { name: 'kind', of: ({ facts }) => facts.mode },
  { name: 'window', of: ({ window }) => window.window },
  { name: 'title', of: ({ window }) => window.title },
  { name: 'protects', of: ({ window }) => window.protects },
  { name: 'severity', of: ({ window }) => window.severity },
  { name: 'subject', of: ({ window }) => window.subject },
  { name: 'teeth_fdi', of: ({ window }) => window.teeth.join(' ') },
  { name: 'state', of: ({ window }) => window.state },
  { name: 'from', of: ({ window }) => window.from },
  { name: 'to', of: ({ window }) => window.to },
  { name: 'opened_utc', of: ({ window }) => window.opened.fromUtc },
  { name: 'opened_latest_utc', of: ({ window }) => window.opened.toUtc },
  { name: 'closed_utc', of: ({ window }) => window.closed?.fromUtc ?? null },
  { name: 'closed_latest_utc', of: ({ window }) => window.closed?.toUtc ?? null },
  { name: 'elapsed_min_ms', of: ({ window }) => window.elapsed?.loMs ?? null },
  { name: 'elapsed_max_ms', of: ({ window }) => window.elapsed?.hiMs ?? null },
  { name: 'min_ms', of: ({ window }) => window.minMs },
  { name: 'max_ms', of: ({ window }) => window.maxMs },
  { name: 'judged_max_ms', of: ({ window }) => window.judgedMaxMs },
  { name: 'margin_over_min_ms', of: ({ window }) => window.marginOverMinMs },
  { name: 'margin_to_max_ms', of: ({ window }) => window.marginToMaxMs },
  // After all others, so that what is counted off by its place stays where it was.
  { name: 'opened_local', of: ({ window }) => window.opened.fromLocal },
  { name: 'opened_latest_local', of: ({ window }) => window.opened.toLocal },
  { name: 'closed_local', of: ({ window }) => window.closed?.fromLocal ?? null },
  { name: 'closed_latest_local', of: ({ window }) => window.closed?.toLocal ?? null },
  { name: 'zone', of: ({ facts }) => facts.zone.name },
  { name: 'said', of: ({ facts, window }) => saidOfWindow(facts, window) },
  { name: 'opened_case_ms', of: ({ window }) => window.opened.loMs },
  { name: 'opened_latest_case_ms', of: ({ window }) => window.opened.hiMs },
  { name: 'closed_case_ms', of: ({ window }) => window.closed?.loMs ?? null },
  { name: 'closed_latest_case_ms', of: ({ window }) => window.closed?.hiMs ?? null },
  { name: 'opened_pressed', of: ({ facts, window }) => pressedKind(facts, window.from) },
  {
    name: 'closed_pressed',
    of: ({ facts, window }) => (window.closed === null ? null : pressedKind(facts, window.to)),
  },
  { name: 'protocol', of: ({ facts }) => facts.protocol.id },
  { name: 'protocol_revision', of: ({ facts }) => facts.protocol.revision },
  { name: 'protocol_hash', of: ({ facts }) => facts.protocol.hash },
  ...secondEndColumns,
];

/** Every window that was opened, in the order of the record. */
export function windowsCsv(facts: RecordFacts): string {
  return csv(
    COLUMNS,
    facts.windows.map((window) => ({ facts, window })),
  );
}
