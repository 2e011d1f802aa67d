import type { Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { figureLabel } from '../../../words/figure-words.ts';
import { titledChoices } from '../../shared/choices.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type Form, fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import { windowEdits } from './editor-new.ts';
import { stepChoices } from './editor-step-names.ts';
import { NewFigureField } from './NewFigureField.tsx';
import { withNewBound } from './new-figures.ts';
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
  'why',
] as const;
/** Its bounds are asked for where it is new. */
const ASKED = ['minMs', 'maxMs'] as const;

/** A minimum, a limit, or both. */
function Bounds({ draft, form }: { readonly draft: OpenDraft; readonly form: Form<Window> }) {
  return (
    <fieldset className="editor-waits">
      <legend>{editorWords.newBounds}</legend>
      {ASKED.map((key) => (
        <NewFigureField
          key={key}
          figureKey={key}
          label={editorWords.newNumber(figureLabel(key))}
          figure={form.value[key] ?? null}
          isMissing={form.tries > 0 && form.value[key] !== undefined}
          missing={editorWords.boundMissing}
          sources={draft.protocol.sources}
          onChange={(figure) => form.set(withNewBound(form.value, key, figure))}
        />
      ))}
    </fieldset>
  );
}

/** Everything of a window but its numbers, which are edited with their basis. */
export function EditorWindowSheet(props: SheetProps<Window>) {
  const { draft, open } = props;
  const { steps, waysBack } = draft.protocol;
  const form = useForm(WINDOW_FORMS, {
    draft,
    part: 'windows',
    id: open.item.id,
    fields: [...FIELDS, ...ASKED],
    first: () => open.item,
    editsOf: (now) => windowEdits(draft.protocol, open, now),
    onClose: props.onClose,
  });
  const moments = stepChoices(steps);
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
      {open.isNew && <Bounds draft={draft} form={form} />}
    </EditorFormSheet>
  );
}
