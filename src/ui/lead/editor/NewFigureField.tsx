import { useState } from 'react';
import { entryText } from '../../../protocol/duration-entry.ts';
import type { FigureKey } from '../../../protocol/edit-types.ts';
import type { Figure, Source } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureUnit, numberNeeds } from '../../../words/figure-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { BasisFields } from './EditorBasisFields.tsx';
import { type BasisEntry, basisEntry, basisOf, basisProblems } from './editor-basis.ts';
import { readEntry } from './editor-model.ts';
import { blankFigure, isBlank } from './new-figures.ts';

function firstText(key: FigureKey, figure: Figure | null): string {
  if (figure === null || isBlank(figure)) return '';
  return figureUnit(key) === 'duration' ? entryText(figure.value) : String(figure.value);
}

/**
 * A number that a form makes. It begins empty, because nobody has typed it; what it comes from is asked
 * as soon as it is there. Answers with null once the field is empty again.
 */
export function NewFigureField(props: {
  readonly figureKey: FigureKey;
  readonly label: string;
  readonly figure: Figure | null;
  /** Whether somebody tried to apply the form without it. */
  readonly isMissing: boolean;
  /** What is said then; else what a number of this kind has to be. */
  readonly missing?: string | undefined;
  readonly sources: readonly Source[];
  readonly onChange: (figure: Figure | null) => void;
}) {
  const { figureKey, figure, isMissing, sources } = props;
  const desk = useLeadDesk();
  const times = useTimes();
  const keeper = useLead((s) => s.keeper) ?? '';
  const [text, setText] = useState(() => firstText(figureKey, figure));
  const [entry, setEntry] = useState(() =>
    basisEntry(figure?.basis ?? { kind: 'practice' }, {
      person: keeper,
      today: times.isoDay(desk.nowWallMs()),
      sources,
    }),
  );
  const reading = readEntry(figureKey, text);
  const tell = (nextText: string, nextEntry: BasisEntry): void => {
    const next = readEntry(figureKey, nextText);
    const basis = basisOf(nextEntry);
    if (nextText.trim() === '') props.onChange(null);
    else props.onChange(next.ok && basis !== null ? { value: next.value, basis } : blankFigure());
  };
  const isEmpty = text.trim() === '';
  const problem = reading.ok || (isEmpty && !isMissing) ? undefined : reading.words;
  return (
    <div className="editor-new-figure">
      <TextField
        label={props.label}
        hint={editorWords.hints[figureUnit(figureKey)]}
        width="short"
        value={text}
        onChange={(next) => {
          setText(next);
          tell(next, entry);
        }}
        problem={isEmpty && isMissing ? (props.missing ?? numberNeeds(figureKey)) : problem}
        readBack={reading.ok ? editorWords.understood(reading.shown) : undefined}
      />
      {!isEmpty && (
        <BasisFields
          entry={entry}
          onChange={(next) => {
            setEntry(next);
            tell(text, next);
          }}
          sources={sources}
          problems={isMissing && reading.ok ? basisProblems(entry) : undefined}
        />
      )}
    </div>
  );
}
