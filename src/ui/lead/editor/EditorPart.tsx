import type { ReactNode } from 'react';
import type { Protocol } from '../../../protocol/types.ts';
import { EditorEntries, type EntryTexts } from './EditorEntries.tsx';
import { type KeptForms, useKept } from './editor-kept.ts';
import type { EntryDeeds } from './editor-moves.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

export interface SheetProps<T> {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<T>;
  readonly onClose: () => void;
}

/** One list of a protocol: an entry in a row, and the sheet over the one that is edited or added. */
export function EditorPart<T extends { readonly id: string }>(props: {
  readonly draft: OpenDraft;
  readonly items: readonly T[];
  /** Keeps which entry is open while the desk is closed. */
  readonly kept: KeptForms<OpenEntry<T> | null>;
  readonly title: string;
  readonly lede: string;
  readonly row: (item: T) => EntryTexts;
  readonly deeds: (index: number) => EntryDeeds;
  readonly add: string;
  /** Null while nothing can be added. */
  readonly newItem: ((protocol: Protocol) => T) | null;
  readonly sheet: (o: SheetProps<T>) => ReactNode;
}) {
  const { draft, items, newItem } = props;
  const open = useKept(props.kept, draft.saved.id, () => null);
  return (
    <>
      <EditorEntries
        title={props.title}
        lede={props.lede}
        rows={items.map((item, index) => ({
          id: item.id,
          ...props.row(item),
          onEdit: () => open.set({ item, isNew: false }),
          ...props.deeds(index),
        }))}
        add={props.add}
        onAdd={
          newItem === null
            ? undefined
            : () => open.set({ item: newItem(draft.protocol), isNew: true })
        }
      />
      {open.value !== null &&
        props.sheet({ draft, open: open.value, onClose: () => open.set(null) })}
    </>
  );
}
