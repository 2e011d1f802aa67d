import { sameLot } from '../../../runtime/stock/same-lot.ts';
import { recordWords } from '../../../words/record-words.ts';
import { TableSection } from '../../parts/Table.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import type { MaterialLine } from './record-materials-model.ts';

/** A mark that was put after the lot was named stands in no record; it has to be told all the same. */
function useRecalledSince({ lot, isLotKnown, isRecalled }: MaterialLine): string | null {
  const recalled = useStock((s) => s.recalls.find((recall) => sameLot(recall.lot, lot)));
  return !isLotKnown || isRecalled || recalled === undefined
    ? null
    : recordWords.recalledSince(recalled.reason);
}

function Lot({ line }: { readonly line: MaterialLine }) {
  const since = useRecalledSince(line);
  return (
    <span className="record-lot" data-known={line.isLotKnown}>
      {line.lot}
      {line.code !== '' && <span className="record-note">{line.code}</span>}
      {since !== null && <span className="record-lot-remark">{since}</span>}
      {line.remarks !== '' && <span className="record-lot-remark">{line.remarks}</span>}
    </span>
  );
}

/** Each lot that was named, with the teeth and steps it was used for. */
export function RecordMaterials({ lines }: { readonly lines: readonly MaterialLine[] }) {
  return (
    <TableSection
      title={recordWords.materials}
      lede={recordWords.materialsLede}
      rows={lines}
      rowId={(line) => line.id}
      empty={recordWords.noMaterials}
      columns={[
        {
          id: 'material',
          label: recordWords.material,
          heads: true,
          cell: (line) => (
            <>
              {line.title}
              <span className="record-note">{line.materialClass}</span>
            </>
          ),
        },
        { id: 'lot', label: recordWords.lot, cell: (line) => <Lot line={line} /> },
        {
          id: 'expires',
          label: recordWords.expires,
          cell: (line) => <span className="record-date">{line.expires}</span>,
        },
        { id: 'teeth', label: recordWords.usedOn, cell: (line) => line.teeth },
        { id: 'steps', label: recordWords.usedFor, cell: (line) => line.steps },
      ]}
    />
  );
}
