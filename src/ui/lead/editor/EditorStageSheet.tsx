import { aroundWords } from '../../../words/around-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { type OpenEntry, type Stage, stageEdits } from './editor-around-model.ts';
import { useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

const STAGE_FORMS = keptForms<string>();

/** The title of a stage. */
export function EditorStageSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<Stage>;
  readonly onClose: () => void;
}) {
  const { draft, open } = props;
  const { item, isNew } = open;
  const form = useForm(STAGE_FORMS, {
    draft,
    part: 'stages',
    id: item.id,
    fields: ['title', 'id'],
    first: () => item.title,
    editsOf: (title) => stageEdits(draft.protocol, open, title),
    onClose: props.onClose,
  });
  return (
    <EditorFormSheet
      title={isNew ? aroundWords.newStage : aroundWords.stageSheet(item.title)}
      problems={form.problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <TextField
        label={aroundWords.stageTitle}
        value={form.value}
        problem={form.problems.at('title')}
        onChange={form.set}
      />
    </EditorFormSheet>
  );
}
