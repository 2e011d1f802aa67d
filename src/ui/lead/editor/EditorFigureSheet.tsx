import { entryText } from '../../../protocol/duration-entry.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { BasisFields } from './EditorBasisFields.tsx';
import { type BasisEntry, basisEntry, basisOf } from './editor-basis.ts';
import { rangeHint } from './editor-findings.ts';
import { keptForms, useKept } from './editor-kept.ts';
import { figureUnit, type NumberCell, readEntry, shownValue } from './editor-model.ts';
import type { OpenDraft } from './open-draft.ts';

function firstText(cell: NumberCell): string {
  const { figure, spot } = cell;
  if (figure === null) return '';
  return figureUnit(spot.key) === 'duration' ? entryText(figure.value) : String(figure.value);
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
  const onClose = (): void => {
    typed.forget();
    props.onClose();
  };
  const reading = readEntry(spot.key, text);
  const basis = basisOf(entry);
  const isReady = reading.ok && basis !== null;
  const apply = (): void => {
    if (!reading.ok || basis === null) return;
    const figure = { value: reading.value, basis };
    if (draft.edit({ do: 'set-figure', spot, figure })) onClose();
  };
  const takeAway = (): void => {
    if (draft.edit({ do: 'clear', spot })) onClose();
  };
  return (
    <Sheet
      open
      width="wide"
      title={editorWords.numberOf(cell)}
      onClose={onClose}
      foot={
        <>
          {cell.optional && cell.figure !== null && (
            <Button rank="quiet" onPress={takeAway}>
              {editorWords.takeAway}
            </Button>
          )}
          <Button rank="main" disabled={!isReady} onPress={apply}>
            {editorWords.apply}
          </Button>
        </>
      }
    >
      <TextField
        label={editorWords.value}
        hint={editorWords.hints[figureUnit(spot.key)]}
        width="short"
        value={text}
        onChange={(next) => typed.set({ text: next, entry })}
        problem={reading.ok ? undefined : reading.words}
        readBack={reading.ok ? editorWords.understood(reading.shown) : undefined}
      />
      {cell.figure !== null && (
        <p className="lw-aside">{editorWords.was(shownValue(spot.key, cell.figure.value))}</p>
      )}
      <RangeHint draft={draft} cell={cell} value={reading.ok ? reading.value : null} />
      <BasisFields
        entry={entry}
        onChange={(next) => typed.set({ text, entry: next })}
        sources={sources}
      />
      {basis === null && <p className="lw-aside">{editorWords.missing}</p>}
    </Sheet>
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
