import type { Source } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import type { BasisEntry } from './editor-basis.ts';

interface FieldsProps {
  readonly entry: BasisEntry;
  readonly onChange: (entry: BasisEntry) => void;
}

/** The document behind a number: what, which revision, where in it, who compared, when again. */
export function InstructionFields({ entry, onChange }: FieldsProps) {
  const set = (key: keyof BasisEntry) => (text: string) => onChange({ ...entry, [key]: text });
  return (
    <div className="editor-basis">
      <div className="editor-basis-wide">
        <TextField
          label={editorWords.document}
          hint={editorWords.documentHint}
          value={entry.document}
          onChange={set('document')}
        />
      </div>
      <TextField label={editorWords.revision} value={entry.revision} onChange={set('revision')} />
      <TextField label={editorWords.page} value={entry.page} onChange={set('page')} />
      <div className="editor-basis-wide">
        <TextField
          label={editorWords.asWritten}
          lines={2}
          value={entry.asWritten}
          onChange={set('asWritten')}
        />
      </div>
      <TextField
        label={editorWords.confirmedBy}
        value={entry.confirmedBy}
        onChange={set('confirmedBy')}
      />
      <TextField
        label={editorWords.confirmedOn}
        type="date"
        value={entry.confirmedOn}
        onChange={set('confirmedOn')}
      />
      <TextField
        label={editorWords.reviewDue}
        hint={editorWords.reviewHint}
        type="date"
        value={entry.reviewDue}
        onChange={set('reviewDue')}
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
        options={(['instructions', 'published', 'practice'] as const).map((value) => ({
          value,
          label: editorWords.basisKind[value],
        }))}
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
