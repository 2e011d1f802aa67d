import type { Source } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { cleanDoi, type OpenEntry, sourceEdits, sourceShort } from './editor-around-model.ts';
import { useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

const SOURCE_FORMS = keptForms<{ readonly citation: string; readonly doi: string }>();

/** A publication: who wrote it, where it stands, when, and its DOI. */
export function EditorSourceSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<Source>;
  readonly onClose: () => void;
}) {
  const { draft, open } = props;
  const { item, isNew } = open;
  const form = useForm(SOURCE_FORMS, {
    draft,
    part: 'sources',
    id: item.id,
    fields: ['citation', 'doi'],
    first: () => ({ citation: item.citation, doi: item.doi ?? '' }),
    editsOf: (value) => sourceEdits(draft.protocol, open, value),
    onClose: props.onClose,
  });
  const { value, set, problems } = form;
  const citation = value.citation.trim();
  const doi = cleanDoi(value.doi);
  return (
    <EditorFormSheet
      title={isNew ? aroundWords.newSource : aroundWords.source}
      problems={problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <TextField
        label={aroundWords.citation}
        hint={aroundWords.citationHint}
        lines={3}
        value={value.citation}
        problem={problems.at('citation')}
        readBack={
          citation === ''
            ? undefined
            : aroundWords.citationRead(sourceShort({ id: item.id, citation }))
        }
        onChange={(text) => set({ ...value, citation: text })}
      />
      <TextField
        label={aroundWords.doi}
        hint={aroundWords.doiHint}
        value={value.doi}
        problem={problems.at('doi')}
        readBack={
          doi === '' || problems.at('doi') !== undefined ? undefined : aroundWords.doiRead(doi)
        }
        onChange={(text) => set({ ...value, doi: text })}
      />
    </EditorFormSheet>
  );
}
