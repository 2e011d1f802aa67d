import type { RowShown } from '../../outcomes/model/outcomes-types.ts';
import { outcomeWords, rangeWords, shareWords } from '../../words/outcome-words.ts';
import { Table, type TableColumn } from '../parts/Table.tsx';

type Column = TableColumn<RowShown>;

const DASH = '–';
const shareOr = (share: number | null): string => (share === null ? DASH : shareWords(share));

/** A row without anybody says so in its first cell, and no more. */
const timeColumn = (): Column => ({
  id: 'time',
  label: outcomeWords.column.time,
  heads: true,
  cell: ({ years }) => <span className="outcomes-time">{outcomeWords.years(years)}</span>,
});

const figure = (id: string, label: string, cell: Column['cell']): Column => ({
  id,
  label,
  figures: true,
  cell,
});

/** The curve at 1, 3, 5 and 10 years; grey where fewer than 10 remain, and said in words. */
export function YearsTable(o: {
  readonly rows: readonly RowShown[];
  readonly hasPatients: boolean;
}) {
  const { column } = outcomeWords;
  const columns: readonly Column[] = [
    timeColumn(),
    figure('share', column.share, ({ point }) =>
      point === null ? (
        <span className="lw-quiet">{outcomeWords.notThatLong}</span>
      ) : (
        <span data-thin={point.isThin} className="outcomes-share">
          {point.isThin
            ? outcomeWords.thinShare(shareWords(point.survival))
            : shareWords(point.survival)}
        </span>
      ),
    ),
    figure('interval', column.interval, ({ point }) =>
      point === null ? (
        DASH
      ) : (
        <>
          {rangeWords(point)}
          <span className="outcomes-how">
            {outcomeWords.wayOf(point.by.map((way) => outcomeWords.by[way]))}
          </span>
        </>
      ),
    ),
    figure('atRisk', column.atRisk, ({ point }) => (point === null ? DASH : point.atRiskAfter)),
  ];
  const patients = figure('patients', column.patients, (row) =>
    row.patients === null ? (
      DASH
    ) : (
      <>
        {shareWords(row.patients.survival)}
        <span className="outcomes-how">{rangeWords(row.patients)}</span>
      </>
    ),
  );
  return (
    <Table
      caption={outcomeWords.tableTitle}
      captionUnseen
      rows={o.rows}
      rowId={({ years }) => String(years)}
      columns={o.hasPatients ? [...columns, patients] : columns}
    />
  );
}

/** The same shares dated in other ways, and between both extremes. */
export function SpreadTable({ rows }: { readonly rows: readonly RowShown[] }) {
  const { column } = outcomeWords;
  const hasCheck = rows.some((row) => row.turnbull !== null);
  const columns: readonly Column[] = [
    timeColumn(),
    figure('share', column.share, ({ point }) => shareOr(point?.survival ?? null)),
    figure('midGap', column.midGap, ({ atMidGap }) => shareOr(atMidGap)),
    ...(hasCheck
      ? [
          figure('check', column.check, (row) =>
            row.turnbull === null
              ? DASH
              : row.turnbull.low === row.turnbull.high
                ? shareWords(row.turnbull.low)
                : rangeWords(row.turnbull),
          ),
        ]
      : []),
    figure('ifAll', column.ifAll, ({ ifAllFailed }) => shareOr(ifAllFailed)),
    figure('ifNone', column.ifNone, ({ ifNoneFailed }) => shareOr(ifNoneFailed)),
  ];
  return (
    <Table
      caption={outcomeWords.followedTitle}
      captionUnseen
      rows={rows}
      rowId={({ years }) => String(years)}
      columns={columns}
    />
  );
}

/** Cumulative incidence: failed, ended otherwise, neither. */
export function CompetingTable({ rows }: { readonly rows: readonly RowShown[] }) {
  const { column } = outcomeWords;
  return (
    <Table
      caption={outcomeWords.competingTitle}
      captionUnseen
      rows={rows}
      rowId={({ years }) => String(years)}
      columns={[
        timeColumn(),
        figure('failed', column.failed, ({ incidence }) => shareOr(incidence?.failed ?? null)),
        figure('interval', column.interval, ({ incidence }) =>
          incidence?.limits ? rangeWords(incidence.limits) : DASH,
        ),
        figure('otherwise', column.otherwise, ({ incidence }) =>
          shareOr(incidence?.competingFirst ?? null),
        ),
        figure('free', column.free, ({ incidence }) => shareOr(incidence?.eventFree ?? null)),
      ]}
    />
  );
}
