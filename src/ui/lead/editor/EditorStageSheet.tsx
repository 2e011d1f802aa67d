import { aroundWords } from '../../../words/around-words.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type Stage, stageEdits } from './editor-around-model.ts';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';

const STAGE_FORMS = keptForms<Stage>();

/** The title of a stage. */
export function EditorStageSheet(props: SheetProps<Stage>) {
  const { draft, open } = props;
  const form = useForm(STAGE_FORMS, {
    draft,
    part: 'stages',
    id: open.item.id,
    fields: ['title', 'id'],
    first: () => open.item,
    editsOf: (stage) => stageEdits(draft.protocol, open, stage),
    onClose: props.onClose,
  });
  return (
    <EditorFormSheet
      title={open.isNew ? aroundWords.newStage : aroundWords.stageSheet(open.item.title)}
      form={form}
    >
      <EntryFields part="stages" keys={['title']} {...fieldsOf(form)} />
    </EditorFormSheet>
  );
}
