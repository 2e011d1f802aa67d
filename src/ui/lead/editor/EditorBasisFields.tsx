import { BASIS_KINDS, withField } from '../../../protocol/schema-fields.ts';
import type { Source } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { EntryFields } from './EntryFields.tsx';
import type { BasisEntry, BasisProblems } from './editor-basis.ts';

interface FieldsProps {
  readonly entry: BasisEntry;
  readonly onChange: (entry: BasisEntry) => void;
  /** What is missing, by field; nothing before somebody tried to apply it. */
  readonly problems?: BasisProblems | undefined;
}

const DOCUMENT = [
  'document',
  'revision',
  'page',
  'asWritten',
  'confirmedBy',
  'confirmedOn',
  'reviewDue',
] as const;

/** The document behind a number: what, which revision, where in it, who compared, when again. */
export function InstructionFields({
  entry,
  onChange,
  problems,
  keys = DOCUMENT,
}: FieldsProps & { readonly keys?: readonly (typeof DOCUMENT)[number][] }) {
  return (
    <div className="editor-basis">
      <EntryFields
        part="instructions"
        keys={keys}
        entry={entry}
        set={(key, value) => onChange(withField(entry, key, value ?? ''))}
        problemAt={(key) => problems?.[key]}
      />
    </div>
  );
}

/** Any of the three kinds of basis. */
export function BasisFields(props: FieldsProps & { readonly sources: readonly Source[] }) {
  const { entry, onChange, problems, sources } = props;
  return (
    <>
      <Segmented
        label={editorWords.basis}
        value={entry.kind}
        options={choicesOf(BASIS_KINDS, editorWords.basisKind)}
        onChange={(kind) => onChange({ ...entry, kind })}
      />
      {entry.kind === 'instructions' && (
        <InstructionFields entry={entry} onChange={onChange} problems={problems} />
      )}
      {entry.kind === 'published' && (
        <SelectField
          label={editorWords.source}
          value={entry.source}
          problem={problems?.source}
          options={sources.map(({ id, citation }) => ({ value: id, label: citation }))}
          onChange={(source) => onChange({ ...entry, source })}
        />
      )}
      {entry.kind !== 'instructions' && (
        <TextField
          label={editorWords.note}
          lines={2}
          value={entry.note}
          onChange={(note) => onChange({ ...entry, note })}
        />
      )}
    </>
  );
}
