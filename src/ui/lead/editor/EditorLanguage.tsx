import { applyEdit } from '../../../protocol/edit.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { useFirstFault } from '../../shared/use-first-fault.ts';
import { keptForms, useKept } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

/** What is typed and not applied; null shows what the protocol says. */
const TYPED = keptForms<string | null>();

const SPOT = { part: 'protocol', id: '', key: 'language' } as const;

const editTo = (language: string): Edit =>
  language === '' ? { do: 'clear', spot: SPOT } : { do: 'set-field', spot: SPOT, value: language };

/** In which language the texts of the protocol are written. */
export function EditorLanguage({ draft }: { readonly draft: OpenDraft }) {
  const typed = useKept(TYPED, draft.saved.id, () => null);
  const own = draft.protocol.language ?? '';
  const value = (typed.value ?? own).trim();
  const isRefused = !applyEdit(draft.protocol, editTo(value)).ok;
  const { body, tries, fail } = useFirstFault<HTMLDivElement>();
  const unchanged = tries > 0 && value === own ? editorWords.nothingTyped : undefined;
  return (
    <div className="editor-language" ref={body}>
      <TextField
        label={aroundWords.language}
        hint={aroundWords.languageHint}
        width="short"
        value={typed.value ?? own}
        onChange={typed.set}
        problem={isRefused ? aroundWords.languageRefused : unchanged}
      />
      <Button
        onPress={() => {
          if (value !== own && !isRefused && draft.edit(editTo(value))) typed.set(null);
          else fail();
        }}
      >
        {editorWords.apply}
      </Button>
    </div>
  );
}
