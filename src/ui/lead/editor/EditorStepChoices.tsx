import type { Step } from '../../../protocol/types.ts';
import { Check } from '../../parts/Segmented.tsx';
import { nameOfStep } from './editor-step-names.ts';

/** Steps of which some are chosen, in the order of the protocol. */
export function EditorStepChoices(o: {
  readonly legend: string;
  readonly steps: readonly Step[];
  /** Every step that one of them could be mixed up with, where these are only some. */
  readonly all?: readonly Step[];
  /** Step ids. */
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
}) {
  const { chosen } = o;
  const turn = (id: string, isOn: boolean): void => {
    const others = chosen.filter((other) => other !== id);
    o.onChange(isOn ? [...others, id] : others);
  };
  return (
    <fieldset className="editor-choices">
      <legend>{o.legend}</legend>
      {o.steps.map(({ id }) => (
        <Check
          key={id}
          label={nameOfStep(o.all ?? o.steps, id)}
          checked={chosen.includes(id)}
          onChange={(isOn) => turn(id, isOn)}
        />
      ))}
    </fieldset>
  );
}
