import { entriesIn, type Part } from '../../../protocol/edit-types.ts';
import type { OpenDraft } from './open-draft.ts';

/** What can be done to an entry of a list where it stands. */
export interface EntryDeeds {
  readonly onRemove: () => void;
  /** Null at the end it cannot pass. */
  readonly onUp: (() => void) | null;
  readonly onDown: (() => void) | null;
}

/** Removes an entry, or moves it past the one above or below; each is one edit. */
export const deedsIn =
  (draft: OpenDraft, part: Part) =>
  (index: number): EntryDeeds => {
    const list = entriesIn(draft.protocol, part);
    const id = list[index]?.id ?? '';
    const move = (before: string | null) => (): void => {
      draft.edit({ do: 'move', part, id, before });
    };
    return {
      onRemove: () => draft.edit({ do: 'remove', part, id }),
      onUp: index === 0 ? null : move(list[index - 1]?.id ?? null),
      onDown: index === list.length - 1 ? null : move(list[index + 2]?.id ?? null),
    };
  };

/** A list with the entry at `from` at another place. */
export function movedTo<T>(list: readonly T[], from: number, to: number): readonly T[] {
  const others = list.toSpliced(from, 1);
  return others.toSpliced(to, 0, ...list.slice(from, from + 1));
}
