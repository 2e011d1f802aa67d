import type { CasesListState } from '../../runtime/cases/cases-list.ts';
import { caseListWords } from '../../words/case-list-words.ts';
import { TableSection } from '../parts/Table.tsx';
import { useTimes } from '../shared/session-context.ts';

const SHORT_LENGTH = 12;

/** What stays of the cases that were deleted on purpose. */
export function CasesGone({ tombstones }: Pick<CasesListState, 'tombstones'>) {
  const times = useTimes();
  const words = caseListWords.columns;
  if (tombstones.length === 0) return null;
  return (
    <TableSection
      title={caseListWords.deleted}
      lede={caseListWords.deletedLede}
      rows={tombstones.toSorted((a, b) => b.stamp.wallMs - a.stamp.wallMs)}
      rowId={(t) => t.caseId}
      columns={[
        {
          id: 'case',
          label: words.case,
          heads: true,
          cell: (t) => <code title={t.caseId}>{t.caseId.slice(0, SHORT_LENGTH)}</code>,
        },
        { id: 'when', label: words.when, cell: (t) => times.moment(t.stamp.wallMs) },
        { id: 'by', label: words.by, cell: (t) => t.by ?? '' },
        { id: 'why', label: words.why, cell: (t) => t.reason },
        { id: 'entries', label: words.entries, figures: true, cell: (t) => t.entries },
        {
          id: 'head',
          label: words.head,
          cell: (t) => <code title={t.head}>{t.head.slice(0, SHORT_LENGTH)}</code>,
        },
      ]}
    />
  );
}
