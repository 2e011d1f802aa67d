import { useState } from 'react';
import type { Step } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import type { Form } from './editor-form.ts';
import type { NumberCell } from './editor-model.ts';
import { NewFigureField } from './NewFigureField.tsx';
import { type Known, newCells, withNewFigure } from './new-figures.ts';
import type { OpenDraft } from './open-draft.ts';

const variantsOf = ({ action }: Step): number =>
  action.kind === 'dwell' ? (action.variants ?? []).length : 0;

/** The numbers that this form makes, each empty until somebody types it. */
export function NewFigures({
  draft,
  form,
  cellsOf = newCells,
}: {
  readonly draft: OpenDraft;
  readonly form: Form<Step>;
  /** Which of its new numbers are asked for here; those of its action when left out. */
  readonly cellsOf?: (step: Step, known: Known) => readonly NumberCell[];
}) {
  const { value: step, set } = form;
  const saved = draft.protocol.steps.find(({ id }) => id === step.id);
  const [typed, setTyped] = useState<ReadonlySet<string>>(new Set());
  const cells = cellsOf(step, { saved, first: form.first, typed });
  if (cells.length === 0) return null;
  return (
    <fieldset className="editor-waits">
      <legend>{editorWords.newNumbers}</legend>
      {cells.map(({ spot, label, figure }) => (
        <NewFigureField
          // Another action has numbers of its own under the same key, and so have times that moved up.
          key={`${step.action.kind} ${variantsOf(step)} ${spot.key}`}
          figureKey={spot.key}
          label={editorWords.newNumber(label)}
          figure={figure}
          isMissing={form.tries > 0 && figure !== null}
          sources={draft.protocol.sources}
          onChange={(next) => {
            setTyped(new Set(typed).add(spot.key));
            set(withNewFigure(step, spot.key, next));
          }}
        />
      ))}
    </fieldset>
  );
}
