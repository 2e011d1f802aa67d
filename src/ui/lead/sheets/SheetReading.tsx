import { useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { freeId } from '../../../protocol/edit.ts';
import {
  addedLine,
  countedLines,
  type DraftLine,
  isOfAnotherState,
  openLines,
  type SheetDraft,
} from '../../../protocol/sheet-draft.ts';
import { type SheetFieldProblem, sheetProblems } from '../../../protocol/sheet-finish.ts';
import { GROUP_UNITS, SHEET_GROUPS, type SheetGroup } from '../../../protocol/sheet-types.ts';
import { leadProblemWords, leadWords } from '../../../words/lead-words.ts';
import { sheetFaultWords, sheetWords } from '../../../words/product-sheet-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { SHEETS, sheetPlace } from '../lead-places.ts';
import { useDeed } from '../use-deed.ts';
import { useLeadDesk } from '../use-lead.ts';
import { wrongIdentifier } from './identifiers.ts';
import type { ProblemAt } from './problem-at.ts';
import { SheetHead } from './SheetHead.tsx';
import { SheetLikePlaces } from './SheetLikePlaces.tsx';
import { SheetLineRow } from './SheetLineRow.tsx';
import { SheetPlaces } from './SheetPlaces.tsx';

/** Wrong as soon as it is typed; what is only missing is told when the sheet is to be kept. */
const isToldAtOnce = ({ fault }: SheetFieldProblem): boolean =>
  !['empty', 'needed', 'words-not-compared', 'same-words'].includes(fault);

const titleOf = ({ kind, document }: SheetDraft): string => {
  if (kind === 'new') return sheetWords.typeTitle;
  return kind === 'revision' ? sheetWords.reviseTitle(document) : sheetWords.readTitle(document);
};

/** A sheet being typed, or a new revision being read number by number. */
export function SheetReading({ draft }: { readonly draft: SheetDraft }) {
  const { sheets } = useLeadDesk();
  const [refused, setRefused] = useState<string | null>(null);
  const [tries, setTries] = useState(0);
  const [placed, setPlaced] = useState<string | null>(null);
  const body = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (tries === 0) return;
    body.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [tries]);
  const problems = sheetProblems(draft);
  const problemAt: ProblemAt = (line, field) => {
    const found = problems.find((p) => p.line === line && p.field === field);
    if (found === undefined || (tries === 0 && !isToldAtOnce(found))) return undefined;
    return sheetFaultWords(found.fault);
  };
  const change = async (next: SheetDraft): Promise<void> => {
    const kept = await sheets.saveDraft(next);
    setRefused(kept.ok ? null : leadProblemWords(kept.error));
  };
  const setLines = (lines: readonly DraftLine[]): void => void change({ ...draft, lines });
  const setLine = (line: DraftLine): void =>
    setLines(draft.lines.map((other) => (other.id === line.id ? line : other)));
  const lines = countedLines(draft);
  const dialogLine = lines.find(({ id }) => id === placed);
  return (
    <Frame
      place="protocols"
      title={titleOf(draft)}
      lede={draft.kind === 'new' ? undefined : sheetWords.readLede}
      actions={<LeadDeskActions />}
    >
      {refused !== null && <Banner tone="attention" words={leadWords.failed} advice={refused} />}
      <div className="sheet-body" ref={body}>
        <SheetHead draft={draft} problemAt={problemAt} onChange={(next) => void change(next)} />
        {isOfAnotherState(draft) && (
          <Banner
            tone="attention"
            words={sheetWords.anotherState}
            advice={sheetWords.anotherStateTodo}
          />
        )}
        <Groups
          lines={lines}
          problemAt={problemAt}
          onLine={setLine}
          onTakeOut={(id) => setLines(draft.lines.filter((line) => line.id !== id))}
          onPlaces={setPlaced}
        />
        <Adding draft={draft} onLines={setLines} />
        <SheetLikePlaces draft={draft} onLines={setLines} />
      </div>
      <Keeping
        draft={draft}
        problems={problems.length + (wrongIdentifier(draft.identifiers) === null ? 0 : 1)}
        onTry={() => setTries(tries + 1)}
      />
      {dialogLine !== undefined && (
        <SheetPlaces
          line={dialogLine}
          materialClass={draft.materialClass}
          onChange={setLine}
          onClose={() => setPlaced(null)}
        />
      )}
    </Frame>
  );
}

function Groups(props: {
  readonly lines: readonly DraftLine[];
  readonly problemAt: ProblemAt;
  readonly onLine: (line: DraftLine) => void;
  readonly onTakeOut: (line: string) => void;
  readonly onPlaces: (line: string) => void;
}) {
  const { problemAt, onLine, onTakeOut, onPlaces } = props;
  return SHEET_GROUPS.map((group) => {
    const lines = props.lines.filter((line) => line.group === group);
    if (lines.length === 0) return null;
    return (
      <Section key={group} title={sheetWords.group[group]}>
        <ul className="sheet-lines">
          {lines.map((line) => (
            <SheetLineRow
              key={line.id}
              line={line}
              problemAt={(field) => problemAt(line.id, field)}
              onChange={onLine}
              onTakeOut={() => onTakeOut(line.id)}
              onPlaces={() => onPlaces(line.id)}
            />
          ))}
        </ul>
      </Section>
    );
  });
}

/** A number that the document has and the sheet had not. */
function Adding(props: {
  readonly draft: SheetDraft;
  readonly onLines: (lines: readonly DraftLine[]) => void;
}) {
  const { draft, onLines } = props;
  const add = (group: SheetGroup): void => {
    const id = freeId(draft.lines, group);
    const [unit] = GROUP_UNITS[group];
    onLines([...draft.lines, addedLine({ id, group, unit })]);
  };
  return (
    <Section title={sheetWords.add} lede={sheetWords.addHint}>
      <ButtonRow>
        {SHEET_GROUPS.map((group) => (
          <Button
            key={group}
            name={sheetWords.addLine(sheetWords.group[group])}
            onPress={() => add(group)}
          >
            {sheetWords.group[group]}
          </Button>
        ))}
      </ButtonRow>
    </Section>
  );
}

function Keeping(props: {
  readonly draft: SheetDraft;
  readonly problems: number;
  readonly onTry: () => void;
}) {
  const { draft, problems, onTry } = props;
  const { sheets } = useLeadDesk();
  const { act, words } = useDeed();
  const [, navigate] = useLocation();
  const [isTried, setTried] = useState(false);
  const [isDropping, setDropping] = useState(false);
  const open = openLines(draft);
  const of = draft.lines.length;
  const keep = async (): Promise<void> => {
    setTried(true);
    onTry();
    if (problems > 0) return;
    const kept = await act(sheets.keep(draft.id));
    if (kept !== null) navigate(sheetPlace(kept.id, 'changes'));
  };
  const drop = async (): Promise<void> => {
    const done = await act(sheets.dropDraft(draft.id));
    if (done !== null) navigate(SHEETS);
  };
  return (
    <div className="sheet-keeping">
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
      <p role="status">
        <strong>{sheetWords.progress({ answered: of - open, of })}</strong>{' '}
        {open > 0 && sheetWords.keepOpen(open)}{' '}
        {isTried && problems > 0 && sheetWords.problems(problems)}
      </p>
      <ButtonRow>
        <Button rank="main" onPress={() => void keep()}>
          {sheetWords.keep}
        </Button>
        <Button rank="quiet" onPress={() => setDropping(true)}>
          {sheetWords.drop}
        </Button>
      </ButtonRow>
      <Sheet
        open={isDropping}
        title={sheetWords.dropSure}
        onClose={() => setDropping(false)}
        foot={
          <Button rank="grave" onPress={() => void drop()}>
            {sheetWords.drop}
          </Button>
        }
      >
        <p className="desk-lede">{sheetWords.dropLede}</p>
      </Sheet>
    </div>
  );
}
