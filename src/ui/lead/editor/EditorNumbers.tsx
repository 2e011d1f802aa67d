import type { Protocol } from '../../../protocol/types.ts';
import { basisShort } from '../../../words/basis-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { protocolWords, whoWords } from '../../../words/protocol-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';
import { Gauge } from '../../parts/Gauge.tsx';
import { Section } from '../../parts/Page.tsx';
import { Table, type TableColumn } from '../../parts/Table.tsx';
import { gaugeLengthPx, stepGauge, windowEnds } from '../../shared/protocol-model.ts';
import {
  type NumberCell,
  type NumberRow,
  paceCells,
  shownValue,
  stepRow,
  windowRow,
} from './editor-model.ts';

type Pick = (cell: NumberCell) => void;

const GAUGE_MAX_PX = 190;

function Cell(props: {
  readonly cell: NumberCell;
  readonly protocol: Protocol;
  readonly onPick: Pick;
  /** Named where the column does not say it. */
  readonly named: boolean;
}) {
  const { cell, protocol, onPick, named } = props;
  const { figure, label, title } = cell;
  if (figure === null) {
    return (
      <button
        type="button"
        className="editor-cell"
        data-empty="true"
        aria-label={editorWords.addNumber({ label, title })}
        onClick={() => onPick(cell)}
      >
        {named ? label : editorWords.noNumber}
      </button>
    );
  }
  const shown = shownValue(cell.spot.key, figure.value);
  const basis = basisShort(figure.basis, protocol.sources);
  return (
    <button
      type="button"
      className="editor-cell"
      data-basis={figure.basis.kind}
      aria-label={editorWords.editNumber({ label, title, shown, basis })}
      onClick={() => onPick(cell)}
    >
      {named && <span className="editor-cell-label">{label}</span>}
      <strong>{shown}</strong>
      <span className="editor-cell-basis">{basis}</span>
    </button>
  );
}

function cellColumn(
  id: 'min' | 'target' | 'max' | 'other',
  o: { readonly protocol: Protocol; readonly onPick: Pick },
): TableColumn<NumberRow> {
  return {
    id,
    label: editorWords.columns[id],
    cell: (row) => (
      <div className="editor-cells">
        {row[id].map((cell) => (
          <Cell
            key={cell.spot.key}
            cell={cell}
            {...o}
            named={id === 'other' || row.step?.action.kind === 'expose' || isNamed(cell)}
          />
        ))}
      </div>
    ),
  };
}

const NAMED: ReadonlySet<string> = new Set(['action.count', 'action.passesMax', 'q10']);

/** Whether a number is no length of time, so that its name has to stand beside it. */
const isNamed = (cell: NumberCell): boolean => NAMED.has(cell.spot.key);

function RowGauge({ row }: { readonly row: NumberRow }) {
  if (row.step !== null) {
    const gauge = stepGauge(row.step);
    if (gauge === null) return null;
    const lengthPx = gaugeLengthPx(gauge, { maxPx: GAUGE_MAX_PX });
    return <Gauge {...gauge} size="stroke" orientation="lying" lengthPx={lengthPx} decorative />;
  }
  const { minMs, maxMs } = row.window ?? {};
  if (minMs === undefined && maxMs === undefined) return null;
  const goalMs = minMs?.value ?? 0;
  return (
    <Gauge
      kind={maxMs === undefined ? 'hold' : 'window'}
      elapsedLoMs={goalMs}
      elapsedHiMs={goalMs}
      {...(minMs === undefined ? {} : { floorMs: minMs.value })}
      {...(maxMs === undefined ? {} : { rimMs: maxMs.value })}
      size="stroke"
      orientation="lying"
      lengthPx={GAUGE_MAX_PX}
      decorative
    />
  );
}

function NumbersTable(props: {
  readonly caption: string;
  readonly rows: readonly NumberRow[];
  readonly protocol: Protocol;
  readonly onPick: Pick;
  readonly isWindows: boolean;
}) {
  const { rows, caption, isWindows } = props;
  const columns: TableColumn<NumberRow>[] = [
    {
      id: 'title',
      label: isWindows ? editorWords.window : editorWords.step,
      heads: true,
      cell: ({ title, step, window }) => (
        <>
          {title}
          <span className="numbers-note">
            {step !== null && whoWords(step)}
            {window !== null && protocolWords.windowFromTo(windowEnds(props.protocol, window))}
          </span>
        </>
      ),
    },
    cellColumn('min', props),
    cellColumn('target', props),
    cellColumn('max', props),
    ...(isWindows ? [] : [cellColumn('other', props)]),
    { id: 'gauge', label: editorWords.picture, cell: (row) => <RowGauge row={row} /> },
  ];
  return (
    <div className="editor-table" data-windows={isWindows}>
      <Table
        caption={caption}
        captionUnseen
        rows={rows}
        rowId={(row) => row.id}
        columns={columns}
      />
    </div>
  );
}

function Paces({ protocol, onPick }: { readonly protocol: Protocol; readonly onPick: Pick }) {
  return (
    <Disclosure summary={editorWords.pace}>
      <p className="desk-lede">{editorWords.paceLede}</p>
      <ul className="editor-paces">
        {protocol.steps.map((step) => (
          <li key={step.id}>
            <span>{step.title}</span>
            <div className="editor-cells">
              {paceCells(step).map((cell) => (
                <Cell key={cell.spot.key} cell={cell} protocol={protocol} onPick={onPick} named />
              ))}
            </div>
          </li>
        ))}
      </ul>
    </Disclosure>
  );
}

/** Durations first: every number that binds in its column, its basis under it, its gauge beside. */
export function EditorNumbers(props: { readonly protocol: Protocol; readonly onPick: Pick }) {
  const { protocol, onPick } = props;
  return (
    <>
      {protocol.stages.map((stage) => {
        const rows = protocol.steps
          .filter((step) => step.stage === stage.id)
          .flatMap((step) => stepRow(step) ?? []);
        if (rows.length === 0) return null;
        return (
          <Section key={stage.id} title={stage.title}>
            <NumbersTable
              caption={editorWords.numbersCaption(stage.title)}
              rows={rows}
              protocol={protocol}
              onPick={onPick}
              isWindows={false}
            />
          </Section>
        );
      })}
      <Section title={editorWords.windows} lede={editorWords.windowsLede}>
        <NumbersTable
          caption={editorWords.windows}
          rows={protocol.windows.map((window) => windowRow(window, protocol))}
          protocol={protocol}
          onPick={onPick}
          isWindows
        />
      </Section>
      <Paces protocol={protocol} onPick={onPick} />
    </>
  );
}
