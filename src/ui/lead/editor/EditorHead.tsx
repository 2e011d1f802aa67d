import { familyWords } from '../../../words/family-words.ts';
import { materialWord, restorationWord } from '../../../words/material-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Facts } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { EditorChoices } from './EditorChoices.tsx';
import { EditorHeadSheet } from './EditorHeadSheet.tsx';
import { EditorSlots } from './EditorSlots.tsx';
import { keptForms, useKept } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

const IS_OPEN = keptForms<boolean>();

/** The protocol itself: what it is for, its materials, and the ways to work chosen at set-up. */
export function EditorHead({ draft }: { readonly draft: OpenDraft }) {
  return (
    <div className="editor-sides">
      <div className="editor-lists">
        <About draft={draft} />
        <EditorChoices draft={draft} />
      </div>
      <div className="editor-lists">
        <EditorSlots draft={draft} />
      </div>
    </div>
  );
}

function About({ draft }: { readonly draft: OpenDraft }) {
  const open = useKept(IS_OPEN, draft.saved.id, () => false);
  const { title, summary, restorations, materials = [] } = draft.protocol;
  const words = familyWords.head;
  const listed = (names: readonly string[], none: string): string =>
    names.length === 0 ? none : words.list(names);
  return (
    <Section title={words.about}>
      <Facts
        facts={[
          { id: 'title', label: words.title, value: title },
          { id: 'summary', label: words.summary, value: summary },
          {
            id: 'restorations',
            label: words.restorations,
            value: listed(restorations.map(restorationWord), words.noRestorations),
          },
          {
            id: 'materials',
            label: words.materials,
            value: listed(materials.map(materialWord), words.anyMaterial),
          },
        ]}
      />
      <div>
        <Button name={words.editName} onPress={() => open.set(true)}>
          {words.edit}
        </Button>
      </div>
      {open.value && <EditorHeadSheet draft={draft} onClose={() => open.set(false)} />}
    </Section>
  );
}
