import { useEffect, useRef } from 'react';
import { recordWords } from '../../../words/record-words.ts';
import { TableSection } from '../../parts/Table.tsx';
import type { WindowLine } from './record-windows-model.ts';

/** The fragment by which a link leads here. */
const WINDOWS_PLACE = 'windows';

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
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // Who comes from a figure came for these.
    if (window.location.hash === `#${WINDOWS_PLACE}`) place.current?.scrollIntoView();
  }, []);
  return (
    <div id={WINDOWS_PLACE} ref={place} className="record-windows-place">
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
    </div>
  );
}
