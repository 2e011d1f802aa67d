import { BASIS_KINDS, withField } from '../../../protocol/schema-fields.ts';
import type { Source } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { EntryFields } from './EntryFields.tsx';
import type { BasisEntry } from './editor-basis.ts';

interface FieldsProps {
  readonly entry: BasisEntry;
  readonly onChange: (entry: BasisEntry) => void;
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
export function InstructionFields({ entry, onChange }: FieldsProps) {
  return (
    <div className="editor-basis">
      <EntryFields
        part="instructions"
        keys={DOCUMENT}
        entry={entry}
        set={(key, value) => onChange(withField(entry, key, value ?? ''))}
      />
    </div>
  );
}

/** Any of the three kinds of basis. */
export function BasisFields(props: FieldsProps & { readonly sources: readonly Source[] }) {
  const { entry, onChange, sources } = props;
  return (
    <>
      <Segmented
        label={editorWords.basis}
        value={entry.kind}
        options={choicesOf(BASIS_KINDS, editorWords.basisKind)}
        onChange={(kind) => onChange({ ...entry, kind })}
      />
      {entry.kind === 'instructions' && <InstructionFields entry={entry} onChange={onChange} />}
      {entry.kind === 'published' && (
        <SelectField
          label={editorWords.source}
          value={entry.source}
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
