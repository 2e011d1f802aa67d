import { stepsOfSlot } from '../../../protocol/edit-uses.ts';
import { withField } from '../../../protocol/schema-fields.ts';
import type { MaterialSlot } from '../../../protocol/types.ts';
import { familyWords } from '../../../words/family-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { EditorPart, type SheetProps } from './EditorPart.tsx';
import { EntryFields } from './EntryFields.tsx';
import { fieldsOf, useForm } from './editor-form.ts';
import { newSlot, type SlotForm, slotEdits, slotForm } from './editor-head-model.ts';
import { keptForms } from './editor-kept.ts';
import { deedsIn } from './editor-moves.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const OPEN_SLOTS = keptForms<OpenEntry<MaterialSlot> | null>();
const SLOT_FORMS = keptForms<SlotForm>();

/** What lies on the table, by its class and never by a product. */
export function EditorSlots({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  const words = familyWords.slots;
  return (
    <EditorPart
      draft={draft}
      items={protocol.slots}
      kept={OPEN_SLOTS}
      title={words.title}
      lede={words.lede}
      row={(item) => {
        const steps = stepsOfSlot(protocol, item.id).map(({ title }) => title);
        return {
          name: item.label,
          words: item.label,
          note: words.note(item, steps.length),
          refusal: steps.length === 0 ? null : words.inUse(steps),
        };
      }}
      deeds={deedsIn(draft, 'slots')}
      add={words.add}
      newItem={newSlot}
      sheet={(o) => <SlotSheet {...o} />}
    />
  );
}

const FIELDS = ['label', 'materialClass'] as const;
const FLAGS = ['refrigerated', 'optional'] as const;

function SlotSheet({ draft, open, onClose }: SheetProps<MaterialSlot>) {
  const { item, isNew } = open;
  const form = useForm(SLOT_FORMS, {
    draft,
    part: 'slots',
    id: item.id,
    fields: [...FIELDS, ...FLAGS, 'standsFor'],
    first: () => slotForm(item),
    editsOf: (value) => slotEdits(draft.protocol, open, value),
    onClose,
  });
  const { value, set, problems } = form;
  const words = familyWords.slots;
  return (
    <EditorFormSheet title={isNew ? words.newOne : words.sheet(item.label)} form={form}>
      <EntryFields part="slots" keys={FIELDS} {...fieldsOf(form)} />
      <div className="editor-choices">
        <EntryFields part="slots" keys={FLAGS} {...fieldsOf(form)} />
      </div>
      <TextField
        label={words.standsFor}
        hint={words.standsForHint}
        lines={3}
        value={value.standsFor}
        problem={problems.at('standsFor')}
        onChange={(standsFor) => set(withField(value, 'standsFor', standsFor))}
      />
    </EditorFormSheet>
  );
}
