/** Fills in a new box as soon as its device identifier is one that the clinic knows. */
import { useEffect, useState } from 'react';
import { useSession } from '../../shared/session-context.ts';
import { boxFields, changed, type Filled, type Filling, fillIn } from './box-fields.ts';
import type { MaterialFields } from './material-draft.ts';

interface Box {
  readonly draft: MaterialFields;
  readonly filled: Filled;
  readonly change: (part: Partial<MaterialFields>) => void;
}

/** @param o.isNew an entry that is corrected keeps what it has. */
export function useBox(o: { readonly isNew: boolean; readonly first: () => MaterialFields }): Box {
  const { stock } = useSession();
  const [filling, setFilling] = useState<Filling>(() => ({ draft: o.first(), filled: {} }));
  const identifier = filling.draft.deviceIdentifier.trim();
  const { isNew } = o;
  useEffect(() => {
    if (!isNew) return undefined;
    let isOver = false;
    const look = async (): Promise<void> => {
      const last = stock.lastBoxOf(identifier);
      const sheet = identifier === '' ? null : await stock.sheetOf(identifier);
      if (isOver) return;
      setFilling((now) => fillIn(now, boxFields(last, sheet?.defaults ?? null)));
    };
    void look();
    return () => {
      isOver = true;
    };
  }, [stock, identifier, isNew]);
  return { ...filling, change: (part) => setFilling((now) => changed(now, part)) };
}
