import type { Step } from '../../../protocol/types.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { nameOfStep } from './editor-step-names.ts';

/** Where a step belongs: one press on the step that it stands behind puts it there. */
export function EditorStepPlace(o: {
  readonly steps: readonly Step[];
  readonly step: Step;
  /** The id of the step that it is to stand in front of; null for the end. */
  readonly onPlace: (before: string | null) => void;
  readonly onClose: () => void;
}) {
  const { steps, step } = o;
  const others = steps.filter(({ id }) => id !== step.id);
  const put = (before: string | null): void => {
    o.onPlace(before);
    o.onClose();
  };
  return (
    <Sheet
      open
      width="wide"
      title={stepFormWords.putAfterTitle(nameOfStep(steps, step.id))}
      onClose={o.onClose}
    >
      <ol className="editor-places">
        <li>
          <Button rank="quiet" onPress={() => put(others[0]?.id ?? null)}>
            {stepFormWords.first}
          </Button>
        </li>
        {others.map(({ id }, index) => (
          <li key={id}>
            <Button rank="quiet" onPress={() => put(others[index + 1]?.id ?? null)}>
              {nameOfStep(steps, id)}
            </Button>
          </li>
        ))}
      </ol>
    </Sheet>
  );
}
