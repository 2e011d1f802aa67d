import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { readDeviceLabel } from '../../../calc/udi/udi.ts';
import { nextRevisionDraft, type SheetDraft } from '../../../protocol/sheet-draft.ts';
import { type SheetEntry, sheetsOf } from '../../../runtime/lead/sheets.ts';
import { leadWords } from '../../../words/lead-words.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { SHEETS, sheetPlace } from '../lead-places.ts';
import { type Act, useDeed } from '../use-deed.ts';
import { useLeadDesk } from '../use-lead.ts';
import { SheetCounts } from './SheetCounts.tsx';
import { useSheets } from './use-sheets.ts';

/** Every sheet, those of one label, and what is being typed. */
export function SheetsHome({ identifier }: { readonly identifier: string | null }) {
  const entries = useSheets((s) => s.entries);
  const drafts = useSheets((s) => s.drafts);
  const damaged = useSheets((s) => s.damaged);
  const { act, words } = useDeed();
  const found = identifier === null ? entries : sheetsOf(entries, identifier);
  const fresh =
    identifier === null ? drafts.filter((d) => entries.every(({ id }) => id !== d.id)) : [];
  return (
    <Frame
      place="protocols"
      title={sheetWords.title}
      lede={sheetWords.lede}
      actions={<LeadDeskActions />}
    >
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
      {damaged > 0 && <Banner tone="attention" words={sheetWords.damaged(damaged)} />}
      <Find />
      <Section title={identifier === null ? sheetWords.all : sheetWords.found(identifier)}>
        {identifier !== null && (
          <p>
            <Link className="lw-way" href={SHEETS}>
              {sheetWords.all}
            </Link>
          </p>
        )}
        {found.length + fresh.length === 0 && <None identifier={identifier} act={act} />}
        <ul className="desk-list">
          {fresh.map((draft) => (
            <DraftRow key={draft.id} draft={draft} />
          ))}
          {found.map((entry) => (
            <SheetRow
              key={entry.id}
              entry={entry}
              draft={drafts.find(({ id }) => id === entry.id)}
              act={act}
            />
          ))}
        </ul>
        <Begin identifier={identifier} act={act} />
      </Section>
      {identifier === null && <PutAway act={act} />}
    </Frame>
  );
}

function None({ identifier, act }: { readonly identifier: string | null; readonly act: Act }) {
  const { sheets } = useLeadDesk();
  const tryIt = async (): Promise<void> => {
    const { demoSheets } = await import('../../../runtime/lead/demo-sheets.ts');
    for (const sheet of await demoSheets()) await act(sheets.take(sheet));
  };
  if (identifier !== null) {
    return <EmptyState words={sheetWords.notFound(identifier)} advice={sheetWords.notFoundTodo} />;
  }
  return (
    <EmptyState
      words={sheetWords.none}
      advice={sheetWords.noneTodo}
      action={<Button onPress={() => void tryIt()}>{sheetWords.tryIt}</Button>}
    />
  );
}

function Begin({ identifier, act }: { readonly identifier: string | null; readonly act: Act }) {
  const { sheets } = useLeadDesk();
  const [, navigate] = useLocation();
  const begin = async (): Promise<void> => {
    const first = identifier === null ? {} : { identifiers: identifier };
    const id = await act(sheets.beginNew(first));
    if (id !== null) navigate(sheetPlace(id, 'read'));
  };
  return (
    <div>
      <Button onPress={() => void begin()}>
        {identifier === null ? sheetWords.begin : sheetWords.beginFor(identifier)}
      </Button>
    </div>
  );
}

/** What a label says goes by its own rules; what follows none is taken as an identifier that was typed. */
function identifierIn(text: string, presentYear: number): string | null {
  const label = readDeviceLabel({ text, presentYear });
  if (label.issuer !== null) return label.deviceIdentifier;
  return /^[0-9A-Za-z.$/+%-]{4,}$/.test(text) ? text : null;
}

/** A scanner that types ends with Enter, which finds. */
function Find() {
  const desk = useLeadDesk();
  const times = useTimes();
  const [, navigate] = useLocation();
  const [text, setText] = useState('');
  const [isUnread, setUnread] = useState(false);
  const find = (): void => {
    const presentYear = Number.parseInt(times.isoDay(desk.nowWallMs()), 10);
    const identifier = identifierIn(text.trim(), presentYear);
    setUnread(identifier === null);
    if (identifier !== null) navigate(`${SHEETS}/label/${encodeURIComponent(identifier)}`);
  };
  return (
    <form
      className="sheets-find"
      onSubmit={(event) => {
        event.preventDefault();
        find();
      }}
    >
      <TextField
        label={sheetWords.find}
        hint={sheetWords.findHint}
        problem={isUnread ? sheetWords.unreadLabel : undefined}
        value={text}
        onChange={(next) => {
          setText(next);
          setUnread(false);
        }}
      />
      <Button type="submit" disabled={text.trim() === ''}>
        {sheetWords.findDo}
      </Button>
    </form>
  );
}

/** What was put away by mistake comes back as it was. */
function PutAway({ act }: { readonly act: Act }) {
  const { sheets } = useLeadDesk();
  const away = useSheets((s) => s.putAway);
  if (away.length === 0) return null;
  return (
    <Disclosure summary={sheetWords.away(away.length)}>
      <ul className="desk-list">
        {away.map((entry) => (
          <li key={entry.id} className="desk-row">
            <p>{entry.current[0]?.sheet.document ?? entry.id}</p>
            <Button
              name={sheetWords.putBackName(entry.current[0]?.sheet.document ?? entry.id)}
              onPress={() => void act(sheets.putBack(entry))}
            >
              {sheetWords.putBack}
            </Button>
          </li>
        ))}
      </ul>
    </Disclosure>
  );
}

function DraftRow({ draft }: { readonly draft: SheetDraft }) {
  const title = draft.document.trim() === '' ? sheetWords.typeTitle : draft.document;
  return (
    <li className="desk-row">
      <div>
        <h3>
          <Link href={sheetPlace(draft.id, 'read')}>{title}</Link>
        </h3>
        <p className="standing">{sheetWords.typing}</p>
      </div>
    </li>
  );
}

function SheetRow(props: {
  readonly entry: SheetEntry;
  readonly draft: SheetDraft | undefined;
  readonly act: Act;
}) {
  const { entry, draft, act } = props;
  const { sheets } = useLeadDesk();
  const [, navigate] = useLocation();
  const [first] = entry.current;
  if (first === undefined) return null;
  const { sheet } = first;
  const revise = async (): Promise<void> => {
    const id = await act(sheets.begin(nextRevisionDraft(sheet)));
    if (id !== null) navigate(sheetPlace(id, 'read'));
  };
  return (
    <li className="desk-row">
      <div>
        <h3>
          <Link href={sheetPlace(entry.id)}>{sheet.document}</Link>
        </h3>
        <p>{sheetWords.rowWhat(sheet)}</p>
        <SheetCounts sheet={sheet} />
        {entry.current.length > 1 && <p className="standing">{sheetWords.apart}</p>}
        {draft !== undefined && <p className="standing">{sheetWords.typing}</p>}
      </div>
      <ButtonRow>
        {draft === undefined ? (
          <Button name={sheetWords.newRevisionName(sheet.document)} onPress={() => void revise()}>
            {sheetWords.newRevision}
          </Button>
        ) : (
          <Button
            name={sheetWords.goOnName(sheet.document)}
            onPress={() => navigate(sheetPlace(entry.id, 'read'))}
          >
            {sheetWords.goOn}
          </Button>
        )}
        <Link
          className="lw-way"
          aria-label={sheetWords.changesName(sheet.document)}
          href={sheetPlace(entry.id, 'changes')}
        >
          {sheetWords.changes}
        </Link>
      </ButtonRow>
    </li>
  );
}
