import { useState } from 'react';
import { entryText } from '../../../protocol/duration-entry.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureUnit } from '../../../words/figure-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { EditorApplySheet } from './EditorApplySheet.tsx';
import { BasisFields } from './EditorBasisFields.tsx';
import {
  type BasisEntry,
  basisEntry,
  basisOf,
  basisProblems,
  entryForNumber,
  keptInstruction,
} from './editor-basis.ts';
import { rangeHint } from './editor-findings.ts';
import { keptForms, useKept } from './editor-kept.ts';
import { type NumberCell, readEntry, shownValue } from './editor-model.ts';
import type { OpenDraft } from './open-draft.ts';

function firstText(cell: NumberCell): string {
  const { figure, spot } = cell;
  if (figure === null) return '';
  return figureUnit(spot.key) === 'duration' ? entryText(figure.value) : String(figure.value);
}

/** Whether what is typed is another number than the one that stands there. */
function differs({ figure, spot }: NumberCell, text: string): boolean {
  const reading = readEntry(spot.key, text);
  return figure === null || !reading.ok || reading.value !== figure.value;
}

const TYPED_FIGURES = keptForms<{ readonly text: string; readonly entry: BasisEntry }>();

/** One number together with where it comes from. Nothing changes before it is applied. */
export function EditorFigureSheet(props: {
  readonly draft: OpenDraft;
  readonly cell: NumberCell;
  readonly onClose: () => void;
}) {
  const { draft, cell } = props;
  const desk = useLeadDesk();
  const times = useTimes();
  const keeper = useLead((s) => s.keeper) ?? '';
  const { sources } = draft.protocol;
  const { spot } = cell;
  const typed = useKept(TYPED_FIGURES, `${draft.saved.id} ${spot.id} ${spot.key}`, () => ({
    text: firstText(cell),
    entry: basisEntry(cell.figure?.basis ?? null, {
      person: keeper,
      today: times.isoDay(desk.nowWallMs()),
      sources,
    }),
  }));
  const { text, entry } = typed.value;
  const [tries, setTries] = useState(0);
  const onClose = (): void => {
    typed.forget();
    props.onClose();
  };
  const kept = keptInstruction(cell.figure?.basis ?? null);
  const reading = readEntry(spot.key, text);
  const isChanged = differs(cell, text);
  const problems = basisProblems(entry, { kept, isChanged });
  const setText = (next: string): void => {
    const after = { kept, wasChanged: isChanged, isChanged: differs(cell, next) };
    typed.set({ text: next, entry: entryForNumber(entry, after) });
  };
  const apply = (): void => {
    const basis = basisOf(entry);
    const isWhole = reading.ok && basis !== null && Object.keys(problems).length === 0;
    const isTaken =
      isWhole && draft.edit({ do: 'set-figure', spot, figure: { value: reading.value, basis } });
    if (isTaken) onClose();
    else setTries(tries + 1);
  };
  const takeAway = (): void => {
    if (draft.edit({ do: 'clear', spot })) onClose();
    else setTries(tries + 1);
  };
  return (
    <EditorApplySheet
      title={editorWords.numberOf(cell)}
      tries={tries}
      other={tries > 0 ? draft.words : null}
      onApply={apply}
      onClose={onClose}
      foot={
        cell.optional &&
        cell.figure !== null && (
          <Button rank="quiet" onPress={takeAway}>
            {editorWords.takeAway}
          </Button>
        )
      }
    >
      <TextField
        label={editorWords.value}
        hint={editorWords.hints[figureUnit(spot.key)]}
        width="short"
        value={text}
        onChange={setText}
        problem={reading.ok ? undefined : reading.words}
        readBack={reading.ok ? editorWords.understood(reading.shown) : undefined}
      />
      {cell.figure !== null && (
        <p className="lw-aside">{editorWords.was(shownValue(spot.key, cell.figure.value))}</p>
      )}
      <RangeHint draft={draft} cell={cell} value={reading.ok ? reading.value : null} />
      {kept !== null && isChanged && <p className="lw-aside">{editorWords.changedNumber}</p>}
      <BasisFields
        entry={entry}
        onChange={(next) => typed.set({ text, entry: next })}
        sources={sources}
        problems={tries > 0 ? problems : undefined}
      />
    </EditorApplySheet>
  );
}

/** The published range for this kind of step, marked when the typed number lies outside. */
function RangeHint(props: {
  readonly draft: OpenDraft;
  readonly cell: NumberCell;
  readonly value: number | null;
}) {
  const hint = rangeHint(props.draft.protocol, props.cell.spot, props.value);
  if (hint === null) return null;
  return (
    <p className="editor-range" data-outside={hint.isOutside}>
      {hint.words}
    </p>
  );
}
