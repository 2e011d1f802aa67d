import type { Protocol, Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { windowEnds } from '../../shared/protocol-model.ts';

/** "Moist dentine, from Dry to Primer" where another window has that title. */
export function windowName(protocol: Protocol, window: Window): string {
  const { id, title } = window;
  const isAlone = protocol.windows.every((other) => other.id === id || other.title !== title);
  return isAlone ? title : editorWords.windowApart({ title, ...windowEnds(protocol, window) });
}
