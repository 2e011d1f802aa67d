import { Link, useLocation } from 'wouter';
import { goOnDraft, nextRevisionDraft, type SheetDraft } from '../../../protocol/sheet-draft.ts';
import { type ProductSheet, SHEET_GROUPS, type SheetLine } from '../../../protocol/sheet-types.ts';
import { type KeptSheet, type SheetEntry, stockDefaultsOf } from '../../../runtime/lead/sheets.ts';
import { leadWords } from '../../../words/lead-words.ts';
import { sheetLineSide, sheetLineValue, sheetWords } from '../../../words/product-sheet-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { Disclosure, type Fact, Facts } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { shortHash } from '../../shared/protocol-model.ts';
import { useTimes } from '../../shared/session-context.ts';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { SHEETS, sheetPlace } from '../lead-places.ts';
import { useDeed } from '../use-deed.ts';
import { useLeadDesk } from '../use-lead.ts';
import { SheetCounts } from './SheetCounts.tsx';
import { useSheets } from './use-sheets.ts';

/** One sheet as it is kept: its document and its numbers, and what can be done with it. */
export function SheetKept({ entry }: { readonly entry: SheetEntry }) {
  const { sheets } = useLeadDesk();
  const [, navigate] = useLocation();
  const { act, words } = useDeed();
  const draft = useSheets((s) => s.drafts.find(({ id }) => id === entry.id));
  const [first] = entry.current;
  if (first === undefined) return null;
  const { sheet } = first;
  // What nobody has read confirms nothing, so reading goes before the next revision.
  const isRead = sheet.lines.every(({ read }) => read !== undefined);
  const begin = async (next: SheetDraft): Promise<void> => {
    const id = await act(sheets.begin(next));
    if (id !== null) navigate(sheetPlace(id, 'read'));
  };
  const putAway = async (): Promise<void> => {
    if ((await act(sheets.putAway(entry))) !== null) navigate(SHEETS);
  };
  return (
    <Frame
      place="protocols"
      title={sheet.document}
      lede={sheetWords.rowWhat(sheet)}
      actions={<LeadDeskActions />}
    >
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
      <ButtonRow>
        {draft === undefined ? (
          <>
            <Button
              rank={isRead ? 'main' : 'plain'}
              onPress={() => void begin(nextRevisionDraft(sheet))}
            >
              {sheetWords.newRevision}
            </Button>
            <Button rank={isRead ? 'plain' : 'main'} onPress={() => void begin(goOnDraft(sheet))}>
              {sheetWords.correct}
            </Button>
          </>
        ) : (
          <Button rank="main" onPress={() => navigate(sheetPlace(entry.id, 'read'))}>
            {sheetWords.goOn}
          </Button>
        )}
        <Link className="lw-way" href={sheetPlace(entry.id, 'changes')}>
          {sheetWords.changes}
        </Link>
      </ButtonRow>
      {entry.current.length > 1 && (
        <Banner tone="attention" words={sheetWords.apart} advice={sheetWords.apartTodo} />
      )}
      <div className="sheets-beside" data-several={entry.current.length > 1}>
        {entry.current.map((kept) => (
          <OneSheet key={kept.hash} kept={kept} />
        ))}
      </div>
      <Earlier entry={entry} />
      <Section title={sheetWords.putAway} lede={sheetWords.putAwayMore}>
        <div>
          <Button onPress={() => void putAway()}>{sheetWords.putAway}</Button>
        </div>
      </Section>
    </Frame>
  );
}

function headFacts({ sheet }: KeptSheet, date: string | null): readonly Fact[] {
  const { facts } = sheetWords;
  const given = (id: keyof typeof facts, value: string | null | undefined): Fact[] =>
    value === undefined || value === null ? [] : [{ id, label: facts[id], value }];
  return [
    ...given('materialClass', sheet.materialClass),
    ...given('revision', sheet.revision),
    ...given('date', date),
    ...given('pages', sheet.pages),
    ...given('identifiers', sheet.deviceIdentifiers?.join(', ')),
  ];
}

function OneSheet({ kept }: { readonly kept: KeptSheet }) {
  const times = useTimes();
  const { sheet, by, atWallMs, hash, isOwn } = kept;
  const date = sheet.date === undefined ? null : times.dateOf(sheet.date);
  const on = times.moment(atWallMs);
  const value = sheetWords.keptBy({ by: by ?? '', on, hash: shortHash(hash) });
  const facts = [...headFacts(kept, date), { id: 'kept', label: sheetWords.facts.kept, value }];
  return (
    <div className="sheet-body">
      {!isOwn && (
        <Banner tone="attention" words={sheetWords.elsewhere} advice={sheetWords.elsewhereTodo} />
      )}
      <Section title={sheetWords.head}>
        <Facts facts={facts} />
        <SheetCounts sheet={sheet} />
      </Section>
      <Lines sheet={sheet} />
      <ForStock sheet={sheet} />
    </div>
  );
}

function Lines({ sheet }: { readonly sheet: ProductSheet }) {
  return SHEET_GROUPS.map((group) => {
    const lines = sheet.lines.filter((line) => line.group === group);
    if (lines.length === 0) return null;
    return (
      <Section key={group} title={sheetWords.group[group]}>
        <ul className="sheet-lines">
          {lines.map((line) => (
            <KeptLine key={line.id} line={line} />
          ))}
        </ul>
      </Section>
    );
  });
}

function KeptLine({ line }: { readonly line: SheetLine }) {
  const times = useTimes();
  const { asWritten, page = '', read, spots } = line;
  return (
    <li className="sheet-kept">
      <p>
        <strong>{sheetLineValue(line)}</strong> {sheetLineSide(line)}
      </p>
      <p className="sheet-quote">{sheetWords.quoted({ words: asWritten, page })}</p>
      <p className="standing">
        <span>{sheetWords.spots(spots.length)}</span>
        {read === undefined ? (
          <strong>{sheetWords.answer.open}</strong>
        ) : (
          <span>{sheetWords.kept({ by: read.by, on: times.dateOf(read.on) })}</span>
        )}
      </p>
    </li>
  );
}

/** What the stock form is offered for a box of this sheet. */
function ForStock({ sheet }: { readonly sheet: ProductSheet }) {
  const { refrigerated, useWithinDays, warmUpMinutes } = stockDefaultsOf(sheet);
  const { stock } = sheetWords;
  const told = [
    ...(refrigerated === true ? [stock.refrigerated] : []),
    ...(useWithinDays === undefined ? [] : [stock.openedFor(useWithinDays)]),
    ...(warmUpMinutes === undefined ? [] : [stock.warmUp(warmUpMinutes)]),
  ];
  if (told.length === 0) return null;
  return (
    <Section title={sheetWords.forStock}>
      <ul className="sheet-stock">
        {told.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </Section>
  );
}

function Earlier({ entry }: { readonly entry: SheetEntry }) {
  const current = new Set(entry.current.map(({ hash }) => hash));
  const earlier = entry.all.filter(({ hash }) => !current.has(hash));
  if (earlier.length === 0) return null;
  return (
    <Disclosure summary={sheetWords.earlier(earlier.length)}>
      {earlier.map((kept) => (
        <Disclosure key={kept.hash} summary={sheetWords.rowWhat(kept.sheet)}>
          <OneSheet kept={kept} />
        </Disclosure>
      ))}
    </Disclosure>
  );
}
