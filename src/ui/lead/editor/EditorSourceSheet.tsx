import type { Source } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EntryFields } from './EntryFields.tsx';
import { cleanDoi, sourceEdits, sourceShort } from './editor-around-model.ts';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';

const SOURCE_FORMS = keptForms<Source>();
const FIELDS = ['citation', 'doi'] as const;

/** A publication: who wrote it, where it stands, when, and its DOI. */
export function EditorSourceSheet(props: SheetProps<Source>) {
  const { draft, open } = props;
  const { item, isNew } = open;
  const form = useForm(SOURCE_FORMS, {
    draft,
    part: 'sources',
    id: item.id,
    fields: FIELDS,
    first: () => item,
    editsOf: (value) => sourceEdits(draft.protocol, open, value),
    onClose: props.onClose,
  });
  const citation = form.value.citation.trim();
  const doi = cleanDoi(form.value.doi ?? '');
  const isRead = doi !== '' && form.problems.at('doi') === undefined;
  const short = (): string => sourceShort({ id: item.id, citation });
  return (
    <EditorFormSheet title={isNew ? aroundWords.newSource : aroundWords.source} form={form}>
      <EntryFields
        part="sources"
        keys={FIELDS}
        {...fieldsOf(form)}
        readBack={{
          citation: citation === '' ? undefined : aroundWords.citationRead(short()),
          doi: isRead ? aroundWords.doiRead(doi) : undefined,
        }}
      />
    </EditorFormSheet>
  );
}
