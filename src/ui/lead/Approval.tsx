import { useState } from 'react';
import { useLocation } from 'wouter';
import { checkProtocol } from '../../protocol/check-protocol.ts';
import { figuresOf, type PlacedFigure } from '../../protocol/edit-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import { refusedSecond } from '../../runtime/lead/lead-second.ts';
import { editorWords } from '../../words/editor-words.ts';
import { leadProblemWords } from '../../words/lead-words.ts';
import { secondWords } from '../../words/second-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { EmergencyNumber } from '../shared/EmergencyNumber.tsx';
import { ApprovalGroup } from './ApprovalGroup.tsx';
import { ApprovalSecond, NO_SECOND, type SecondEntry, secondGroups } from './ApprovalSecond.tsx';
import { figureGroups, figureName, groupTickId, readIn, spotId } from './approval-groups.ts';
import { cellOfSpot, type NumberCell } from './editor/editor-model.ts';
import type { OpenDraft } from './editor/open-draft.ts';
import { useLead, useLeadDesk } from './use-lead.ts';
import './approval.css';

/** Number by number, or one document for many: what stands between a draft and its use. */
export function Approval(props: {
  readonly draft: OpenDraft;
  readonly onPick: (cell: NumberCell) => void;
}) {
  const { draft, onPick } = props;
  const binding = figuresOf(draft.protocol).filter((figure) => figure.binds);
  const open = binding.filter(({ figure }) => figure.basis.kind !== 'instructions');
  const done = binding.filter(({ figure }) => figure.basis.kind === 'instructions');
  const paces = figuresOf(draft.protocol).length - binding.length;
  return (
    <>
      <Section title={editorWords.confirm.title} lede={editorWords.confirm.lede}>
        <p className="approval-count">{editorWords.confirm.open(open.length)}</p>
        <Groups draft={draft} />
        <p className="lw-aside">{editorWords.confirm.paces(paces)}</p>
        {done.length > 0 && (
          <Disclosure summary={editorWords.confirm.done(done.length)}>
            <ul className="approval-done">
              {done.map((figure) => (
                <DoneRow key={spotId(figure.spot)} draft={draft} figure={figure} onPick={onPick} />
              ))}
            </ul>
          </Disclosure>
        )}
      </Section>
      <EmergencyNumber />
      <Final draft={draft} open={open.length} />
    </>
  );
}

function DoneRow(props: {
  readonly draft: OpenDraft;
  readonly figure: PlacedFigure;
  readonly onPick: (cell: NumberCell) => void;
}) {
  const { draft, figure, onPick } = props;
  const cell = cellOfSpot(draft.protocol, figure.spot);
  const name = figureName(figure);
  return (
    <li>
      <p>
        {name}
        <span className="numbers-note">{readIn(draft.protocol, figure)}</span>
      </p>
      {cell !== null && (
        <Button rank="quiet" name={editorWords.named.edit(name)} onPress={() => onPick(cell)}>
          {editorWords.edit}
        </Button>
      )}
    </li>
  );
}

/** The numbers that wait, material by material; one of them is open at a time. */
function Groups({ draft }: { readonly draft: OpenDraft }) {
  const groups = figureGroups(draft.protocol);
  const [openKey, setOpenKey] = useState<string | null>(null);
  return (
    <ul className="approval-groups">
      {groups.map((group) => {
        const isOpen = group.key === openKey;
        return (
          <li key={group.key}>
            <div className="approval-group">
              <div>
                <h3>{group.title}</h3>
                <p className="numbers-note">
                  {group.classes !== '' && `${group.classes} · `}
                  {editorWords.confirm.open(group.figures.length)}
                </p>
              </div>
              <Button
                name={editorWords.confirm.compareName(group.title)}
                on={isOpen}
                onPress={() => setOpenKey(isOpen ? null : group.key)}
              >
                {editorWords.confirm.compare}
              </Button>
            </div>
            {isOpen && <ApprovalGroup draft={draft} group={group} />}
          </li>
        );
      })}
    </ul>
  );
}

/** What the second person has not read, or why that person cannot be it; null when all is well. */
function secondProblem(draft: OpenDraft, keeper: string, entry: SecondEntry) {
  const named = refusedSecond(draft.saved, { keeper, second: entry.name });
  const unread = secondGroups(draft.protocol).filter(
    (group) => !entry.read.has(groupTickId(group)),
  );
  return { named, unread: unread.map(({ title }) => title) };
}

function Final({ draft, open }: { readonly draft: OpenDraft; readonly open: number }) {
  const desk = useLeadDesk();
  const keeper = useLead((s) => s.keeper) ?? '';
  const asksSecond = useLead((s) => s.asksSecond);
  const [, navigate] = useLocation();
  const [words, setWords] = useState<string | null>(null);
  const [second, setSecond] = useState<SecondEntry>(NO_SECOND);
  const [hasTried, setTried] = useState(false);
  const { protocol } = draft;
  const waits = waitsWords(protocol, open);
  const { named, unread } = secondProblem(draft, keeper, second);
  const confirm = async (): Promise<void> => {
    setTried(true);
    if (waits !== null) return setWords(waits);
    if (asksSecond && unread.length > 0) return setWords(secondWords.readFirst(unread));
    const confirmed = await desk.confirm(draft.saved.id, second.name);
    if (confirmed.ok) navigate('/lead');
    else setWords(leadProblemWords(confirmed.error));
  };
  return (
    <>
      {asksSecond && open === 0 && (
        <ApprovalSecond
          protocol={protocol}
          entry={second}
          onChange={setSecond}
          problem={hasTried && named !== null ? leadProblemWords(named) : undefined}
        />
      )}
      <Section title={editorWords.confirm.final} lede={editorWords.confirm.finalLede}>
        {waits !== null && words === null && <p className="approval-count">{waits}</p>}
        {words !== null && <Banner tone="attention" words={waits ?? words} />}
        <div>
          <Button rank="main" onPress={() => void confirm()}>
            {editorWords.confirm.confirmAs(desk.nextRevision(protocol.id))}
          </Button>
        </div>
      </Section>
    </>
  );
}

/** What stands before the confirmation; null when nothing does. */
function waitsWords(protocol: Protocol, open: number): string | null {
  const found = checkProtocol(protocol);
  const faults = found.filter(({ level }) => level === 'error').length;
  const misquoted = found.filter(({ code }) => code === 'quote-differs').length;
  if (open === 0 && faults === 0 && misquoted === 0) return null;
  return editorWords.confirm.waits({ open, faults, misquoted });
}
