import { formatSeconds } from '../../../words/duration.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Section } from '../../parts/Page.tsx';
import { Table } from '../../parts/Table.tsx';
import type { ExposureTable, SurfaceCell } from './record-model.ts';

function Given({ cell }: { readonly cell: SurfaceCell | null | undefined }) {
  if (!cell) return null;
  const isShort = cell.givenMs < cell.setMs;
  return (
    <span className="record-given" data-short={isShort}>
      {formatSeconds(cell.givenMs)}
      {isShort && <small>{recordWords.ofSet(formatSeconds(cell.setMs))}</small>}
    </span>
  );
}

/** Every tooth and every surface with the exposure it was given. */
export function RecordExposures({ tables }: { readonly tables: readonly ExposureTable[] }) {
  if (tables.length === 0) return null;
  return (
    <Section title={recordWords.exposure} lede={recordWords.exposureLede}>
      <div className="record-exposures">
        {tables.map((table) => (
          <Table
            key={table.step}
            caption={table.title}
            rows={table.rows}
            rowId={(row) => row.unit}
            columns={[
              { id: 'tooth', label: recordWords.tooth, heads: true, cell: (row) => row.label },
              ...table.surfaces.map((surface, index) => ({
                id: surface.id,
                label: surface.label,
                figures: true,
                cell: (row: (typeof table.rows)[number]) => <Given cell={row.cells[index]} />,
              })),
            ]}
          />
        ))}
      </div>
    </Section>
  );
}
