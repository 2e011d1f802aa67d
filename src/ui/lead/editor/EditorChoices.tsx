import type { ProtocolChoice } from '../../../protocol/types.ts';
import { familyWords } from '../../../words/family-words.ts';
import { EditorChoiceSheet } from './EditorChoiceSheet.tsx';
import { EditorPart } from './EditorPart.tsx';
import { choicesEdit, choiceUses, newChoice } from './editor-head-model.ts';
import { keptForms } from './editor-kept.ts';
import { movedTo } from './editor-moves.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const OPEN_CHOICES = keptForms<OpenEntry<ProtocolChoice> | null>();

function noteOf({ options, default: own }: ProtocolChoice): string {
  const standing = options.find(({ id }) => id === own)?.label ?? own;
  return familyWords.choices.note({ options: options.map(({ label }) => label), standing });
}

/** Ways to work between which the clinic chooses when it sets up a case. */
export function EditorChoices({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  const { choices = [] } = protocol;
  const words = familyWords.choices;
  const edit = (next: readonly ProtocolChoice[]) => (): void => {
    draft.edit(choicesEdit(next));
  };
  return (
    <EditorPart
      draft={draft}
      items={choices}
      kept={OPEN_CHOICES}
      title={words.title}
      lede={words.lede}
      row={(item) => {
        const uses = choiceUses(protocol, item.id);
        return {
          name: item.title,
          words: item.title,
          note: noteOf(item),
          refusal: uses.length === 0 ? null : words.inUse(uses),
        };
      }}
      deeds={(index) => ({
        onRemove: edit(choices.toSpliced(index, 1)),
        onUp: index === 0 ? null : edit(movedTo(choices, index, index - 1)),
        onDown: index === choices.length - 1 ? null : edit(movedTo(choices, index, index + 1)),
      })}
      add={words.add}
      newItem={newChoice}
      sheet={(o) => <EditorChoiceSheet {...o} />}
    />
  );
}
