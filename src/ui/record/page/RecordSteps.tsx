import { recordWords } from '../../../words/record-words.ts';
import { Section } from '../../parts/Page.tsx';
import type { RecordCell, RecordLine, RecordStage } from './record-steps-model.ts';

interface Column {
  readonly id: string;
  readonly label: string;
}

/** More units than this do not fit the width of a sheet of paper. */
const COLUMNS_MAX = 10;

function chunks(columns: readonly Column[]): (readonly Column[])[] {
  const count = Math.ceil(columns.length / COLUMNS_MAX);
  return Array.from({ length: count }, (_, i) =>
    columns.slice(i * COLUMNS_MAX, (i + 1) * COLUMNS_MAX),
  );
}

function Cell({ cell }: { readonly cell: RecordCell }) {
  const isBare = cell.figure === '' && cell.moment === '';
  return (
    <div className="record-cell" data-state={cell.state}>
      {isBare && cell.state !== 'none' && <span>{recordWords.open}</span>}
      {cell.figure !== '' && <span className="record-cell-figure">{cell.figure}</span>}
      {cell.moment !== '' && <span className="record-cell-moment">{cell.moment}</span>}
      {cell.remark !== '' && <span className="record-cell-remark">{cell.remark}</span>}
    </div>
  );
}

function Line(props: {
  readonly line: RecordLine;
  readonly from: number;
  readonly columns: readonly Column[];
}) {
  const { line, from, columns } = props;
  return (
    <tr>
      <th scope="row">
        {line.title}
        <span className="record-note">
          {recordWords.several([line.asks, line.how, line.who].filter((w) => w !== ''))}
        </span>
      </th>
      {line.cells === null ? (
        <td colSpan={columns.length}>
          <div className="record-told">
            {line.told.map((cell) => (
              <Cell key={cell.id} cell={cell} />
            ))}
          </div>
        </td>
      ) : (
        line.cells.slice(from, from + columns.length).map((cell) => (
          <td key={cell.id}>
            <Cell cell={cell} />
          </td>
        ))
      )}
    </tr>
  );
}

function StepsTable(props: {
  readonly stages: readonly RecordStage[];
  readonly columns: readonly Column[];
  readonly chunk: number;
}) {
  const { stages, columns, chunk } = props;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus.
    <section className="record-steps-room" aria-label={recordWords.steps} tabIndex={0}>
      <table className="record-steps">
        <thead>
          <tr>
            <th scope="col">{recordWords.step}</th>
            {columns.map((column) => (
              <th key={column.id} scope="col">
                {column.label}
              </th>
            ))}
          </tr>
        </thead>
        {stages.map((stage) => (
          <tbody key={stage.id}>
            <tr className="record-stage">
              <th scope="rowgroup" colSpan={columns.length + 1}>
                {stage.title}
              </th>
            </tr>
            {stage.lines
              .filter((line) => chunk === 0 || line.cells !== null)
              .map((line) => (
                <Line key={line.step} line={line} from={chunk * COLUMNS_MAX} columns={columns} />
              ))}
          </tbody>
        ))}
      </table>
    </section>
  );
}

/** Every step by stage: what was done to each unit, when, for how long, by whom. */
export function RecordSteps(props: {
  readonly stages: readonly RecordStage[];
  readonly columns: readonly Column[];
}) {
  return (
    <Section title={recordWords.steps} lede={recordWords.stepsLede}>
      {chunks(props.columns).map((columns, chunk) => (
        <StepsTable key={columns[0]?.id} stages={props.stages} columns={columns} chunk={chunk} />
      ))}
    </Section>
  );
}
