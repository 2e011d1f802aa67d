import type { Moment } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SelectField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from './editor-choices.ts';
import type { OpenDraft } from './open-draft.ts';

const EDGES = ['start', 'end'] as const;

interface FieldsProps {
  readonly draft: OpenDraft;
  readonly label: string;
  readonly problem?: string | undefined;
}

/** A step and one of its two ends. */
export function MomentFields(
  props: FieldsProps & {
    readonly moment: Moment;
    readonly onChange: (moment: Moment) => void;
  },
) {
  const { onChange } = props;
  return <MaybeMomentFields {...props} onChange={(moment) => moment && onChange(moment)} />;
}

/** The same where there may be none; `none` says in words what that means. */
export function MaybeMomentFields(
  props: FieldsProps & {
    readonly moment: Moment | undefined;
    readonly none?: string;
    readonly onChange: (moment: Moment | undefined) => void;
  },
) {
  const { draft, label, problem, moment, none, onChange } = props;
  const steps = draft.protocol.steps.map(({ id, title }) => ({ value: id, label: title }));
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
