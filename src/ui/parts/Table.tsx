import type { ReactNode } from 'react';
import { Section } from './Page.tsx';
import './page.css';

export interface TableColumn<Row> {
  readonly id: string;
  readonly label: string;
  readonly cell: (row: Row) => ReactNode;
  /** Figures stand at the right, under one another. */
  readonly figures?: boolean | undefined;
  /** The column that names the row. One only. */
  readonly heads?: boolean | undefined;
}

interface TableProps<Row> {
  readonly caption: string;
  readonly captionUnseen?: boolean | undefined;
  readonly columns: readonly TableColumn<Row>[];
  readonly rows: readonly Row[];
  readonly rowId: (row: Row) => string;
  /** What to say instead of an empty body. */
  readonly empty?: string | undefined;
}

/** A plain table: hairlines, figures aligned, headings quiet. Scrolls sideways by keyboard too. */
export function Table<Row>(props: TableProps<Row>) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus.
    <section className="lw-table-room" aria-label={props.caption} tabIndex={0}>
      <table className="lw-table">
        <caption className={props.captionUnseen === true ? 'lw-unseen' : undefined}>
          {props.caption}
        </caption>
        <thead>
          <tr>
            {props.columns.map((column) => (
              <th key={column.id} scope="col" data-figures={column.figures === true}>
                {column.label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {props.rows.map((row) => (
            <tr key={props.rowId(row)}>
              {props.columns.map((column) =>
                column.heads === true ? (
                  <th key={column.id} scope="row">
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.id} data-figures={column.figures === true}>
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
          {props.rows.length === 0 && props.empty !== undefined && (
            <tr>
              <td className="lw-table-empty" colSpan={props.columns.length}>
                {props.empty}
              </td>
            </tr>
          )}
        </tbody>
      </table>
    </section>
  );
}

/** A part of a page that is one table, named by its heading. */
export function TableSection<Row>(
  props: Omit<TableProps<Row>, 'caption'> & { readonly title: string; readonly lede: string },
) {
  const { title, lede, ...table } = props;
  return (
    <Section title={title} lede={lede}>
      <Table caption={title} captionUnseen {...table} />
    </Section>
  );
}
