import { useState } from 'react';
import { freeId } from '../../../protocol/edit.ts';
import type { Step } from '../../../protocol/types.ts';
import { type EntryDeed, editorWords } from '../../../words/editor-words.ts';
import { protocolWords, stepAsks, whoWords } from '../../../words/protocol-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { EditorStepPlace } from './EditorStepPlace.tsx';
import { EditorStepSheet } from './EditorStepSheet.tsx';
import { keptForms, useKept } from './editor-kept.ts';
import { newStep, type OpenEntry } from './editor-new.ts';
import { STORED_STEP } from './editor-step.ts';
import { nameOfStep } from './editor-step-names.ts';
import type { OpenDraft } from './open-draft.ts';
import { type Drag, useDrag } from './use-drag.ts';

const OPEN_STEPS = keptForms<OpenEntry<Step> | null>(STORED_STEP.open);

/** The steps in their order: each can be edited, doubled, removed, and put where it belongs in one move. */
export function EditorStepList({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  const { steps } = protocol;
  const { value: open, set: setOpen } = useKept(OPEN_STEPS, draft.saved.id, () => null);
  const [placed, setPlaced] = useState<Step | null>(null);
  const move = (id: string, before: string | null): void => {
    draft.edit({ do: 'move', part: 'steps', id, before });
  };
  const drag = useDrag(steps.length, ({ from, to }) => {
    const step = steps[from];
    if (step !== undefined) move(step.id, steps[to]?.id ?? null);
  });
  return (
    <Section title={editorWords.stepsTitle}>
      <ol
        className="editor-items editor-steps"
        aria-label={editorWords.stepsTitle}
        ref={drag.list}
        data-end={drag.to === steps.length}
      >
        {steps.map((step, index) => (
          <StepRow
            key={step.id}
            draft={draft}
            step={step}
            index={index}
            drag={drag}
            onMove={(before) => move(step.id, before)}
            onPlace={() => setPlaced(step)}
            onEdit={() => setOpen({ item: step, isNew: false })}
          />
        ))}
      </ol>
      <div>
        <Button onPress={() => setOpen({ item: newStep(protocol), isNew: true })}>
          {editorWords.addStep}
        </Button>
      </div>
      {open !== null && (
        <EditorStepSheet
          key={open.item.id}
          draft={draft}
          open={open}
          onClose={() => setOpen(null)}
        />
      )}
      {placed !== null && (
        <EditorStepPlace
          steps={steps}
          step={placed}
          onPlace={(before) => move(placed.id, before)}
          onClose={() => setPlaced(null)}
        />
      )}
    </Section>
  );
}

function stepNote({ by, per }: Step, asks: string): string {
  const { roles, scopes, whoAsks } = protocolWords;
  return whoAsks({ by: roles[by], per: scopes[per], asks });
}

interface RowProps {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly index: number;
  readonly drag: Drag;
  readonly onMove: (before: string | null) => void;
  readonly onPlace: () => void;
  readonly onEdit: () => void;
}

function StepRow(props: RowProps) {
  const { draft, step, index, drag } = props;
  const asks = stepAsks(step, draft.protocol);
  return (
    <li data-dragged={drag.from === index} data-before={drag.from !== null && drag.to === index}>
      <div>
        <button
          type="button"
          className="editor-handle"
          aria-label={stepFormWords.drag(nameOfStep(draft.protocol.steps, step.id))}
          {...drag.handle(index)}
        />
        <strong>{step.title}</strong>
        <span className="numbers-note">{asks === '' ? whoWords(step) : stepNote(step, asks)}</span>
      </div>
      <Deeds {...props} />
    </li>
  );
}

function Deeds({ draft, step, index, onMove, onPlace, onEdit }: RowProps) {
  const { steps } = draft.protocol;
  const { id } = step;
  const title = nameOfStep(steps, id);
  const name = (deed: EntryDeed) => editorWords.named[deed](title);
  const double = () =>
    draft.edit({ do: 'duplicate-step', step: id, newId: freeId(steps, `${id}-copy`) });
  return (
    <div className="editor-deeds">
      <Button
        rank="quiet"
        name={name('up')}
        disabled={index === 0}
        onPress={() => onMove(steps[index - 1]?.id ?? null)}
      >
        {editorWords.up}
      </Button>
      <Button
        rank="quiet"
        name={name('down')}
        disabled={index === steps.length - 1}
        onPress={() => onMove(steps[index + 2]?.id ?? null)}
      >
        {editorWords.down}
      </Button>
      <Button
        rank="quiet"
        name={stepFormWords.putAfterName(title)}
        disabled={steps.length < 2}
        onPress={onPlace}
      >
        {stepFormWords.putAfter}
      </Button>
      <Button rank="quiet" name={name('duplicate')} onPress={double}>
        {editorWords.duplicate}
      </Button>
      <Button
        rank="quiet"
        name={name('remove')}
        onPress={() => draft.edit({ do: 'remove', part: 'steps', id })}
      >
        {editorWords.remove}
      </Button>
      <Button rank="quiet" name={name('edit')} onPress={onEdit}>
        {editorWords.edit}
      </Button>
    </div>
  );
}
