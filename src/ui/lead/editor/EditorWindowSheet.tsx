import type { Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { titledChoices } from '../../shared/choices.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { EntryFields } from './EntryFields.tsx';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import { entryEdits, type OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const WINDOW_FORMS = keptForms<Window>();
const FIELDS = [
  'title',
  'from',
  'to',
  'match',
  'protects',
  'severity',
  'wayBack',
  'amber',
] as const;

/** Everything of a window but its numbers, which are edited with their basis. */
export function EditorWindowSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<Window>;
  readonly onClose: () => void;
}) {
  const { draft, open } = props;
  const { steps, waysBack } = draft.protocol;
  const form = useForm(WINDOW_FORMS, {
    draft,
    part: 'windows',
    id: open.item.id,
    fields: FIELDS,
    first: () => open.item,
    editsOf: (now) => entryEdits('windows', open, { ...now, title: now.title.trim() }),
    onClose: props.onClose,
  });
  const moments = titledChoices(steps);
  return (
    <EditorFormSheet
      title={open.isNew ? editorWords.newWindow : editorWords.windowSheet(open.item.title)}
      form={form}
    >
      <EntryFields
        part="windows"
        keys={FIELDS}
        {...fieldsOf(form)}
        choices={{ from: moments, to: moments, wayBack: titledChoices(waysBack) }}
      />
    </EditorFormSheet>
  );
}
