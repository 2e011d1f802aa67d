import type { Moment } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SelectField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';

const EDGES = ['start', 'end'] as const;

/** A step and one of its two ends; `none` says in words what it means to choose neither. */
export function MomentFields(props: {
  readonly label: string;
  readonly problem?: string | undefined;
  readonly steps: readonly { readonly value: string; readonly label: string }[];
  readonly none?: string | undefined;
  readonly moment: Moment | undefined;
  readonly onChange: (moment: Moment | undefined) => void;
}) {
  const { label, problem, steps, moment, none, onChange } = props;
  const edge = moment?.edge ?? 'end';
  return (
    <div className="editor-wait">
      <SelectField
        label={label}
        value={moment?.step ?? ''}
        problem={problem}
        options={none === undefined ? steps : [{ value: '', label: none }, ...steps]}
        onChange={(step) => onChange(step === '' ? undefined : { step, edge })}
      />
      {moment !== undefined && (
        <Segmented
          label={editorWords.edgeOf(label)}
          labelUnseen
          value={moment.edge}
          options={choicesOf(EDGES, editorWords.edge)}
          onChange={(next) => onChange({ ...moment, edge: next })}
        />
      )}
    </div>
  );
}
