import { Link } from 'wouter';
import {
  type CallRow,
  callsCsv,
  type LotInCase,
  lotInCase,
} from '../../../export/recalled-cases.ts';
import { saveFile } from '../../../runtime/cases/share.ts';
import { namesLot } from '../../../runtime/stock/names-lot.ts';
import { stockWords } from '../../../words/material-stock-words.ts';
import { materialForms, restorationWord } from '../../../words/material-words.ts';
import { recallWords } from '../../../words/recall-words.ts';
import { toothLabel } from '../../../words/subject-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Table } from '../../parts/Table.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useCasesList } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { callRows, matching } from './calls-model.ts';
import '../../shared/materials.css';

interface Looked {
  /** Which cases were looked through. */
  readonly wanted: string;
  readonly found: ReadonlyMap<string, LotInCase>;
  readonly failed: readonly string[];
}

const NOTHING: Looked = { wanted: '', found: new Map(), failed: [] };

/** Reads the cases in which the lot stands, for the teeth that it was used on. */
function useRead(caseIds: readonly string[], lot: string): Looked & { readonly isDone: boolean } {
  const session = useSession();
  const wanted = caseIds.join(' ');
  const look = async (): Promise<Looked> => {
    const found = new Map<string, LotInCase>();
    const failed: string[] = [];
    for (const id of wanted === '' ? [] : wanted.split(' ')) {
      const read = await session.readCase(id);
      const own = read.ok ? lotInCase(read.value.log, (text) => namesLot(text, lot)) : null;
      if (own !== null) found.set(id, own);
      if (!read.ok) failed.push(id);
    }
    return { wanted, found, failed };
  };
  const { value } = useLoaded(look, [session, lot], [wanted]);
  return { ...(value ?? NOTHING), isDone: value?.wanted === wanted };
}

/** The router leaves a slash of a lot as it is written in an address. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** Whom to call about a lot: every case in which it stands, and those of which it cannot be told. */
export function MaterialsCalls({ place }: { readonly place: string }) {
  const lot = decoded(place);
  const list = useCasesList();
  const times = useTimes();
  const summaries = useApp((s) => s.cases);
  const damage = useApp((s) => s.damage);
  const prepared = useApp((s) => s.prepared);
  const read = useRead(matching(list.facts, lot), lot);
  const { facts, unreadable } = list;
  // Every case that has the lot too: until then teeth are missing.
  const isRead = list.isRead && read.isDone;
  const { found, failed } = read;
  const rows = callRows({
    ...{ lot, facts, isRead: list.isRead, unreadable, summaries, prepared, failed, times },
    read: found,
    damaged: damage.cases,
  });
  const untold = rows.filter(({ standing }) => standing === 'cannot-tell').length + damage.unnamed;
  const save = (): void => {
    const name = `lot-${lot.replace(/[^\w.-]+/g, '-')}-${times.isoDay(Date.now())}.csv`;
    saveFile({
      name,
      type: 'text/csv;charset=utf-8',
      content: callsCsv(rows, { lot, unnamed: damage.unnamed }),
    });
  };
  return (
    <Frame
      place="materials"
      title={recallWords.callsOf(lot)}
      lede={recallWords.callsLede}
      actions={
        <>
          <Link className="lw-way" href="/materials">
            {stockWords.back}
          </Link>
          <Button disabled={!isRead} onPress={save}>
            {recallWords.save}
          </Button>
          <Button rank="main" disabled={!isRead} onPress={() => window.print()}>
            {recallWords.print}
          </Button>
        </>
      }
    >
      {!isRead && <Banner tone="plain" words={recallWords.callsReading(list)} />}
      {untold > 0 && <Banner tone="attention" words={recallWords.cannotTell(untold)} />}
      <Rows rows={rows} isRead={isRead} />
    </Frame>
  );
}

function Rows({ rows, isRead }: { readonly rows: readonly CallRow[]; readonly isRead: boolean }) {
  const times = useTimes();
  const notation = useApp((s) => s.settings.notation);
  const words = recallWords;
  return (
    <Table
      caption={words.calls}
      captionUnseen
      rows={rows}
      rowId={(row) => `${row.standing} ${row.caseId}`}
      empty={isRead ? words.callsNone : undefined}
      columns={[
        { id: 'chart', label: words.chart, heads: true, cell: (row) => row.chartRef },
        { id: 'case', label: words.case, cell: (row) => <Title row={row} /> },
        {
          id: 'day',
          label: words.day,
          cell: (row) => (row.day === null ? '' : times.dateOf(row.day)),
        },
        { id: 'standing', label: words.standing, cell: (row) => words.standings[row.standing] },
        {
          id: 'teeth',
          label: words.teeth,
          cell: ({ lot }) => lot?.teeth.map((tooth) => toothLabel(tooth, notation)).join(', '),
        },
        {
          id: 'bonded',
          label: words.bonded,
          cell: ({ lot }) =>
            lot?.bonded.map(({ teeth, restoration, material }) => (
              <span key={teeth.join(' ')} className="stock-more">
                {words.bondedUnit({
                  teeth: teeth.map((tooth) => toothLabel(tooth, notation)),
                  restoration: restorationWord(restoration),
                  material: materialForms(material).inLine,
                })}
              </span>
            )),
        },
        {
          id: 'used',
          label: words.used,
          cell: ({ lot }) => (
            <>
              {lot?.uses.map((use) => (
                <span key={`${use.slot} ${use.isTyped}`} className="stock-more">
                  {words.withSlot(use)}
                </span>
              ))}
              {lot?.isNoted && <span className="stock-more">{words.noted}</span>}
            </>
          ),
        },
      ]}
    />
  );
}

function Title({ row }: { readonly row: CallRow }) {
  const { standing, caseId, title, isWhole } = row;
  const href = standing === 'prepared' ? `/set-up/${caseId}` : `/record/${caseId}`;
  return (
    <>
      <Link href={href}>{title === '' ? caseId : title}</Link>
      {!isWhole && standing !== 'cannot-tell' && (
        <span className="stock-more">{recallWords.cannotTellWhole}</span>
      )}
    </>
  );
}
