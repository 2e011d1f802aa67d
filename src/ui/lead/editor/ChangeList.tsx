import { editorWords } from '../../../words/editor-words.ts';
import { Table } from '../../parts/Table.tsx';
import type { ChangeRow } from './editor-change-model.ts';

/** Differences as lines to read, and side by side. */
export function ChangeList(props: {
  readonly rows: readonly ChangeRow[];
  /** What stands on either side, where it is not before and after. */
  readonly sides?: { readonly before: string; readonly after: string };
}) {
  const { rows, sides } = props;
  const labels = sides ?? { before: editorWords.before, after: editorWords.afterwards };
  return (
    <>
      <ul className="editor-changes" aria-label={editorWords.difference}>
        {rows.map((row) => (
          <li key={row.id}>{row.line}</li>
        ))}
      </ul>
      <Table
        caption={editorWords.sideBySide}
        rows={rows}
        rowId={(row) => row.id}
        columns={[
          { id: 'what', label: editorWords.what, heads: true, cell: (row) => <What row={row} /> },
          { id: 'before', label: labels.before, cell: (row) => row.before },
          { id: 'after', label: labels.after, cell: (row) => <strong>{row.after}</strong> },
        ]}
      />
    </>
  );
}

function What({ row }: { readonly row: ChangeRow }) {
  return (
    <>
      {row.what}
      {row.difference !== undefined && <span className="numbers-note">{row.difference}</span>}
    </>
  );
}
