import { recordWords } from '../../../words/record-words.ts';
import { TableSection } from '../../parts/Table.tsx';
import type { WindowLine } from './record-windows-model.ts';

function Margins({ line }: { readonly line: WindowLine }) {
  return (
    <ul className="record-margins">
      {line.margins.map((margin) => (
        <li key={margin.id} data-state={margin.state}>
          {margin.subject !== '' && <span className="record-margin-subject">{margin.subject}</span>}
          <span>{margin.state === 'open' ? recordWords.open : margin.margin}</span>
        </li>
      ))}
    </ul>
  );
}

/** Every window that was opened, with what was left of it for each subject. */
export function RecordWindows({ windows }: { readonly windows: readonly WindowLine[] }) {
  return (
    <TableSection
      title={recordWords.windows}
      lede={recordWords.windowsLede}
      rows={windows}
      rowId={(line) => line.id}
      empty={recordWords.noWindows}
      columns={[
        { id: 'title', label: recordWords.window, heads: true, cell: (line) => line.title },
        { id: 'limit', label: recordWords.limit, cell: (line) => line.limit },
        {
          id: 'tightest',
          label: recordWords.tightest,
          figures: true,
          cell: (line) => line.tightest ?? recordWords.open,
        },
        {
          id: 'margins',
          label: recordWords.margins,
          cell: (line) => <Margins line={line} />,
        },
      ]}
    />
  );
}
