import { useEffect, useRef } from 'react';
import type { LineDraft } from '../../engine/list-draft.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { lotOf } from '../../runtime/stock/stock-warnings.ts';
import { listWords } from '../../words/list-words.ts';
import { chairMaterialWords } from '../../words/material-chair-words.ts';
import { listTitle } from '../../words/offer-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useStock } from '../shared/materials-hooks.ts';
import { useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { listInHand } from './chair-model.ts';
import {
  type ListRow,
  listRows,
  readingToday,
  typedDraft,
  typedProblem,
  wantsReading,
} from './list-model.ts';
import type { TypedEvidence } from './typed-model.ts';
import './chair-list.css';

interface Props {
  readonly running: RunningCase;
}

interface RowProps extends Props {
  readonly row: ListRow;
}

/** The lines of the list in hand: each ticked or open, with the control of its own answer. */
export function ChairList({ running }: Props) {
  const materials = useStock((s) => s.materials);
  const rows = listRows(running, materials);
  const list = listInHand(running);
  useKnownReading(running, rows);
  if (list === null) return null;
  return (
    <ul className="chair-list" aria-label={listTitle(list, namingOf(running))}>
      {rows.map((row) => (
        <Row key={row.key} row={row} running={running} />
      ))}
    </ul>
  );
}

/** A reading of this day stands there already; taken away by hand, it is not put back. */
function useKnownReading(running: RunningCase, rows: readonly ListRow[]): void {
  const session = useSession();
  const times = useTimes();
  const readings = useStock((s) => s.readings);
  const asking = running.isViewOnly ? undefined : rows.find(wantsReading);
  const known = asking === undefined ? null : readingToday(running, readings, times);
  useEffect(() => {
    if (asking === undefined || known === null || asking.asked?.kind !== 'typed') return;
    session.keepLine(asking.line, typedDraft(known, asking.asked.evidence, running));
  });
}

/** Keeps what is said of a line; a glove that bounces does not take its tick away again. */
function useKeep({ row, running }: RowProps): (draft: LineDraft) => void {
  const session = useSession();
  const tablet = useTablet();
  return (draft) => {
    if (running.isViewOnly || !tablet.door.accepts(`line ${row.key}`)) return;
    session.keepLine(row.line, draft);
  };
}

function Row({ row, running }: RowProps) {
  const keep = useKeep({ row, running });
  return (
    <li data-taken={row.isTaken}>
      <button
        type="button"
        className="chair-list-tick"
        aria-pressed={row.isTaken}
        disabled={!row.isAnswered || running.isViewOnly}
        onClick={() => keep({ ...row.draft, isTicked: !row.isTaken && !row.isHeld })}
      >
        <StateMark shape={row.isTaken ? 'full' : row.isHeld ? 'part' : 'empty'} />
        <span>{row.title}</span>
      </button>
      <div className="chair-list-body">
        {row.isHeld && <p>{listWords.held}</p>}
        {row.read.map((words) => (
          <p key={words} className="chair-list-read">
            {words}
          </p>
        ))}
        {row.read.length === 0 && row.instruction !== undefined && <p>{row.instruction}</p>}
        <Answer row={row} running={running} />
      </div>
    </li>
  );
}

function Answer({ row, running }: RowProps) {
  const { asked } = row;
  switch (asked?.kind) {
    case undefined:
      return null;
    case 'option':
    case 'choice':
      return <Choice row={row} running={running} options={asked.options} />;
    case 'typed':
      return <Typed row={row} running={running} evidence={asked.evidence} />;
    case 'lot':
      return <Lot row={row} running={running} slot={asked.slot} />;
  }
}

function Choice(
  o: RowProps & {
    readonly options: readonly { readonly id: string; readonly label: string }[];
  },
) {
  const keep = useKeep(o);
  const { draft, line } = o.row;
  const isOption = line.wants === 'option';
  return (
    <div className="chair-list-choices">
      {o.options.map(({ id, label }) => {
        const isOn = isOption ? draft.option === id : draft.evidence === label;
        const answer = isOption ? { option: id } : { evidence: label };
        return (
          <Button key={id} size="chair" on={isOn} onPress={() => keep(isOn ? {} : answer)}>
            {label}
          </Button>
        );
      })}
    </div>
  );
}

function Typed({ row, running, evidence }: RowProps & { readonly evidence: TypedEvidence }) {
  const session = useSession();
  const place = useRef<HTMLDivElement>(null);
  const problem = typedProblem(row, evidence);
  // What is wrong stands below the field: it must not be behind the edge of the list.
  useEffect(() => {
    if (problem !== undefined) place.current?.scrollIntoView?.({ block: 'nearest' });
  }, [problem]);
  return (
    <div ref={place}>
      <TextField
        label={evidence.label}
        value={row.draft.text ?? ''}
        onChange={(text) => session.keepLine(row.line, typedDraft(text, evidence, running))}
        problem={problem}
        {...(evidence.kind === 'reading'
          ? { unit: evidence.unit, inputMode: 'decimal', width: 'short' }
          : {})}
      />
    </div>
  );
}

type Slot = Extract<NonNullable<ListRow['asked']>, { kind: 'lot' }>['slot'];

/** A lot of the shelf with one touch, or as it is printed; one that is named already stands there. */
function Lot({ row, slot }: RowProps & { readonly slot: Slot }) {
  const session = useSession();
  const tablet = useTablet();
  const times = useTimes();
  if (slot.named !== null) {
    return <p className="chair-list-read">{chairMaterialWords.named(slot.named)}</p>;
  }
  if (slot.choices.length === 0) {
    const change = (text: string) =>
      session.keepLine(row.line, text.trim() === '' ? { text } : { text, evidence: text.trim() });
    return <TextField label={listWords.lot} value={row.draft.text ?? ''} onChange={change} />;
  }
  return (
    <div className="chair-list-choices">
      {slot.choices.map((material) => (
        <Button
          key={material.id}
          size="chair"
          name={chairMaterialWords.choose({
            label: material.label,
            lot: material.lot,
            slot: slot.label,
          })}
          onPress={() => {
            const lot = lotOf(material, tablet.wallNowMs(), times);
            tablet.door.do({ do: 'name-material', slot: slot.id, material: lot });
          }}
        >
          {chairMaterialWords.named({ label: material.label, lot: material.lot })}
        </Button>
      ))}
    </div>
  );
}
