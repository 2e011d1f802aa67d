import { useState } from 'react';
import { useLocation } from 'wouter';
import { checkProtocol } from '../../protocol/check-protocol.ts';
import { figuresOf, type PlacedFigure, type Spot } from '../../protocol/edit-types.ts';
import { basisWords } from '../../words/basis-words.ts';
import { editorWords } from '../../words/editor-words.ts';
import { figureLabel } from '../../words/figure-words.ts';
import { leadProblemWords } from '../../words/lead-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { Check } from '../parts/Segmented.tsx';
import { EmergencyNumber } from '../shared/EmergencyNumber.tsx';
import { useTimes } from '../shared/session-context.ts';
import { InstructionFields } from './editor/EditorBasisFields.tsx';
import { basisEntry, basisOf } from './editor/editor-basis.ts';
import { cellOfSpot, type NumberCell, shownValue } from './editor/editor-model.ts';
import type { OpenDraft } from './editor/open-draft.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

const idOf = ({ part, id, key }: Spot): string => `${part} ${id} ${key}`;

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
        {open.length > 0 && <Bulk draft={draft} open={open} />}
        <p className="lw-aside">{editorWords.confirm.paces(paces)}</p>
        {done.length > 0 && (
          <Disclosure summary={editorWords.confirm.done(done.length)}>
            <ul className="approval-done">
              {done.map((figure) => (
                <DoneRow key={idOf(figure.spot)} draft={draft} figure={figure} onPick={onPick} />
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

function figureName({ title, spot, figure }: PlacedFigure): string {
  return editorWords.confirm.number({
    title,
    label: figureLabel(spot.key),
    shown: shownValue(spot.key, figure.value),
  });
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
        <span className="numbers-note">
          {basisWords(figure.figure.basis, draft.protocol.sources).line}
        </span>
      </p>
      {cell !== null && (
        <Button rank="quiet" name={editorWords.named.edit(name)} onPress={() => onPick(cell)}>
          {editorWords.edit}
        </Button>
      )}
    </li>
  );
}

/** Ticks the numbers that one document covers, and puts that document behind all of them. */
function Bulk(props: { readonly draft: OpenDraft; readonly open: readonly PlacedFigure[] }) {
  const { draft, open } = props;
  const desk = useLeadDesk();
  const keeper = useLead((s) => s.keeper) ?? '';
  const { sources } = draft.protocol;
  const times = useTimes();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [entry, setEntry] = useState(() =>
    basisEntry(null, { person: keeper, today: times.isoDay(desk.nowWallMs()), sources }),
  );
  const picked = open.filter(({ spot }) => chosen.has(idOf(spot)));
  const basis = basisOf(entry);
  const tick = (id: string, isOn: boolean): void => {
    const next = new Set(chosen);
    if (isOn) next.add(id);
    else next.delete(id);
    setChosen(next);
  };
  const apply = (): void => {
    if (basis === null) return;
    const spots = picked.map(({ spot }) => spot);
    if (draft.edit({ do: 'set-basis', spots, basis })) setChosen(new Set());
  };
  return (
    <div className="approval-bulk">
      <fieldset className="approval-open">
        <legend>{editorWords.confirm.choose}</legend>
        <ButtonRow>
          <Button onPress={() => setChosen(new Set(open.map(({ spot }) => idOf(spot))))}>
            {editorWords.confirm.chooseAll}
          </Button>
          <Button onPress={() => setChosen(new Set())}>{editorWords.confirm.chooseNone}</Button>
        </ButtonRow>
        <div className="approval-list">
          {open.map((figure) => (
            <Check
              key={idOf(figure.spot)}
              label={figureName(figure)}
              note={basisWords(figure.figure.basis, sources).kind}
              checked={chosen.has(idOf(figure.spot))}
              onChange={(isOn) => tick(idOf(figure.spot), isOn)}
            />
          ))}
        </div>
      </fieldset>
      <div className="approval-document">
        <h3>{editorWords.confirm.doc}</h3>
        <InstructionFields entry={entry} onChange={setEntry} />
        {basis === null && <p className="lw-aside">{editorWords.missing}</p>}
        <Button disabled={basis === null || picked.length === 0} onPress={apply}>
          {editorWords.confirm.bulk(picked.length)}
        </Button>
      </div>
    </div>
  );
}

function Final({ draft, open }: { readonly draft: OpenDraft; readonly open: number }) {
  const desk = useLeadDesk();
  const [, navigate] = useLocation();
  const [words, setWords] = useState<string | null>(null);
  const { protocol } = draft;
  const faults = checkProtocol(protocol).filter((finding) => finding.level === 'error').length;
  const mustWait = open > 0 || faults > 0;
  const confirm = async (): Promise<void> => {
    const confirmed = await desk.confirm(draft.saved.id);
    if (confirmed.ok) navigate('/lead');
    else setWords(leadProblemWords(confirmed.error));
  };
  return (
    <Section title={editorWords.confirm.final} lede={editorWords.confirm.finalLede}>
      {mustWait && <p className="approval-count">{editorWords.confirm.waits({ open, faults })}</p>}
      {words !== null && <Banner tone="attention" words={words} />}
      <div>
        <Button rank="main" disabled={mustWait} onPress={() => void confirm()}>
          {editorWords.confirm.confirmAs(desk.nextRevision(protocol.id))}
        </Button>
      </div>
    </Section>
  );
}
