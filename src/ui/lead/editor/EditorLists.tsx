import { pressingFits } from '../../../protocol/check-pressing.ts';
import type { PressList } from '../../../protocol/types.ts';
import { pressingWords } from '../../../words/pressing-words.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { EditorPart, type SheetProps } from './EditorPart.tsx';
import { EditorStepChoices } from './EditorStepChoices.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type ListForm, linesOf, listEdits, newList } from './editor-around-model.ts';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import { deedsIn } from './editor-moves.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const OPEN_LISTS = keptForms<OpenEntry<PressList> | null>();
const LIST_FORMS = keptForms<ListForm>();

/** Lines that are pressed together: their lists can be named, added and removed. */
export function EditorLists({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  return (
    <EditorPart
      draft={draft}
      items={protocol.lists ?? []}
      kept={OPEN_LISTS}
      title={pressingWords.lists}
      lede={pressingWords.listsLede}
      row={(item) => {
        const lines = linesOf(protocol, item.id).map(({ title }) => title);
        return {
          name: item.title,
          words: pressingWords.listRow(item),
          note: lines.length === 0 ? pressingWords.noLines : pressingWords.linesAre(lines),
          refusal: null,
        };
      }}
      deeds={deedsIn(draft, 'lists')}
      add={pressingWords.addList}
      newItem={newList}
      sheet={(o) => <ListSheet {...o} />}
    />
  );
}

/** What a list is called, what the bar says, and its lines. */
function ListSheet({ draft, open, onClose }: SheetProps<PressList>) {
  const { protocol } = draft;
  const { item, isNew } = open;
  const form = useForm(LIST_FORMS, {
    draft,
    part: 'lists',
    id: item.id,
    fields: ['title', 'words'],
    first: () => ({
      title: item.title,
      words: item.words,
      steps: linesOf(protocol, item.id).map(({ id }) => id),
    }),
    editsOf: (value) => listEdits(protocol, open, value),
    onClose,
  });
  const { value, set } = form;
  return (
    <EditorFormSheet
      title={isNew ? pressingWords.newList : pressingWords.listSheet(item.title)}
      form={form}
    >
      <EntryFields part="lists" keys={['title', 'words']} {...fieldsOf(form)} />
      <EditorStepChoices
        legend={pressingWords.lines}
        steps={protocol.steps.filter((step) => pressingFits('list', step))}
        all={protocol.steps}
        chosen={value.steps}
        onChange={(chosen) => set({ ...value, steps: chosen })}
      />
    </EditorFormSheet>
  );
}
