import type { Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { protocolWords, windowAsks } from '../../../words/protocol-words.ts';
import { windowEnds } from '../../shared/protocol-model.ts';
import { EditorPart } from './EditorPart.tsx';
import { EditorWindowSheet } from './EditorWindowSheet.tsx';
import { keptForms } from './editor-kept.ts';
import { deedsIn } from './editor-moves.ts';
import { newWindow, type OpenEntry } from './editor-new.ts';
import { windowName } from './editor-window-names.ts';
import type { OpenDraft } from './open-draft.ts';

const OPEN_WINDOWS = keptForms<OpenEntry<Window> | null>();

/** The limits on the time between two moments. */
export function EditorWindows({ draft }: { readonly draft: OpenDraft }) {
  const { protocol } = draft;
  return (
    <EditorPart
      draft={draft}
      items={protocol.windows}
      kept={OPEN_WINDOWS}
      title={editorWords.windows}
      lede={editorWords.windowsLede}
      row={(item) => ({
        name: windowName(protocol, item),
        words: item.title,
        note: protocolWords.windowEndsAsks({
          ...windowEnds(protocol, item),
          asks: windowAsks(item),
        }),
        refusal: null,
      })}
      deeds={deedsIn(draft, 'windows')}
      add={editorWords.addWindow}
      // A window lies between two moments.
      newItem={protocol.steps.length < 2 ? null : newWindow}
      sheet={(o) => <EditorWindowSheet key={o.open.item.id} {...o} />}
    />
  );
}
