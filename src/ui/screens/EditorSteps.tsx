import type { DraftDesk } from './editor-draft.ts';

export function EditorSteps({ draft }: { readonly draft: DraftDesk }) {
  return <p>{draft.protocol.title}</p>;
}
