import { editorWords } from '../../../words/editor-words.ts';
import { Section } from '../../parts/Page.tsx';
import { ProtocolPicture } from '../../shared/ProtocolPicture.tsx';
import { sequenceOf } from '../../shared/protocol-model.ts';
import { EditorStepList } from './EditorStepList.tsx';
import { EditorWindows } from './EditorWindows.tsx';
import type { OpenDraft } from './open-draft.ts';

/** The whole sequence: adding, ordering, doubling and removing, with its picture beside it. */
export function EditorSteps({ draft }: { readonly draft: OpenDraft }) {
  return (
    <div className="editor-sides">
      <div className="editor-lists">
        <EditorStepList draft={draft} />
        <EditorWindows draft={draft} />
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus. */}
      <section className="editor-picture" aria-label={editorWords.picture} tabIndex={0}>
        <Section title={editorWords.picture} lede={editorWords.pictureLede}>
          <ProtocolPicture sequence={sequenceOf(draft.protocol)} />
        </Section>
      </section>
    </div>
  );
}
