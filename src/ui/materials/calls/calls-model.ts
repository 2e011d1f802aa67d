/** The rows of the list of whom to call about a lot, from what the list of cases knows. Pure. */
import type { CallRow, LotInCase } from '../../../export/recalled-cases.ts';
import type { CaseFile } from '../../../protocol/case-types.ts';
import type { AppState } from '../../../runtime/app-state.ts';
import { type CaseFacts, casesWithLot } from '../../../runtime/cases/cases-list-facts.ts';
import { namesLot } from '../../../runtime/stock/names-lot.ts';
import { instantOf, type Times } from '../../../words/date-words.ts';

interface CallsInput {
  readonly lot: string;
  readonly facts: readonly CaseFacts[];
  /** Every case has been looked at: what has no result by then cannot be read whole. */
  readonly isRead: boolean;
  /** Cases that cannot be read at all, and what their summaries tell. */
  readonly unreadable: readonly string[];
  readonly summaries: AppState['cases'];
  /** Cases of which entries are missing. */
  readonly damaged: AppState['damage']['cases'];
  readonly prepared: readonly CaseFile[];
  /** What the log of each case with the lot says of it. */
  readonly read: ReadonlyMap<string, LotInCase>;
  /** Cases with the lot that could not be read just now. */
  readonly failed?: readonly string[];
  readonly times: Times;
}

/** Cases whose logs say more of the lot. */
export const matching = (facts: readonly CaseFacts[], lot: string): readonly string[] =>
  casesWithLot(facts, lot).map(({ facts: { caseId } }) => caseId);

type Row = Omit<CallRow, 'lot' | 'standing' | 'isWhole'>;

const ofFacts = (facts: CaseFacts, times: Times): Row => ({
  caseId: facts.caseId,
  chartRef: facts.chartRef,
  title: facts.title,
  mode: facts.mode,
  day: times.isoDay(facts.openedWallMs),
});

/** Cases in which the lot stands, the newest first, then those of which it cannot be told. */
export function callRows(o: CallsInput): readonly CallRow[] {
  const { lot, facts, times } = o;
  const partly = new Set([
    ...o.damaged.map(({ caseId }) => caseId),
    ...(o.failed ?? []),
    ...(o.isRead ? facts.filter(({ breaches }) => breaches === null) : []).map((f) => f.caseId),
  ]);
  const uses = casesWithLot(facts, lot);
  const told = new Set(uses.map(({ facts: { caseId } }) => caseId));
  const prepared = o.prepared.filter(({ note }) => namesLot(note ?? '', lot));
  const summaries = new Map(o.summaries.map((summary) => [summary.caseId, summary]));
  const untold = new Set([...partly, ...o.unreadable].filter((caseId) => !told.has(caseId)));
  const rows = [
    ...prepared.map((spec): CallRow => {
      const atMs = instantOf(spec.scheduledFor);
      return {
        caseId: spec.id,
        chartRef: spec.chartRef,
        title: spec.title,
        mode: 'patient',
        standing: 'prepared',
        day: atMs === null ? null : times.isoDay(atMs),
        isWhole: true,
        lot: null,
      };
    }),
    ...uses.map(({ facts: own }): CallRow => {
      const standing = own.isClosed ? 'closed' : 'running';
      const isWhole = !partly.has(own.caseId);
      return { ...ofFacts(own, times), standing, isWhole, lot: o.read.get(own.caseId) ?? null };
    }),
    ...[...untold].map((caseId): CallRow => {
      const known = facts.find((f) => f.caseId === caseId);
      const summary = summaries.get(caseId);
      const damage = o.damaged.find((d) => d.caseId === caseId);
      const row = known === undefined ? null : ofFacts(known, times);
      const openedMs = summary?.openedWallMs;
      return {
        caseId,
        chartRef: row?.chartRef ?? summary?.chartRef ?? damage?.chartRef ?? '',
        title: row?.title ?? summary?.title ?? damage?.title ?? '',
        mode: row?.mode ?? summary?.mode ?? 'patient',
        day: row?.day ?? (openedMs === undefined ? null : times.isoDay(openedMs)),
        standing: 'cannot-tell',
        isWhole: false,
        lot: null,
      };
    }),
  ];
  // In a rehearsal nothing came onto a tooth.
  return rows.filter(({ mode }) => mode === 'patient');
}
