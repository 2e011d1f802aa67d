/**
 * What is typed into a form of the desk and was not applied yet. The desk closes when nobody touches
 * it, and its pages go with it; what was typed is there again once it is opened.
 */
import { useState } from 'react';
import type { LeadDesk } from '../../../runtime/lead/lead.ts';
import { useLeadDesk } from '../use-lead.ts';
import { dropStored, type Stored, store, takeStored } from './editor-stored.ts';

interface Kept<T> {
  readonly value: T;
}

/** Values by desk and key. One is made for each kind of form, outside of any component. */
export interface KeptForms<T> {
  readonly byDesk: WeakMap<LeadDesk, Map<string, Kept<T>>>;
  readonly stored: Stored<T> | null;
}

/** With `stored`, what is typed is there again also after the page was loaded anew. */
export function keptForms<T>(stored: Stored<T> | null = null): KeptForms<T> {
  return { byDesk: new WeakMap(), stored };
}

interface KeptState<T> {
  readonly value: T;
  readonly set: (value: T) => void;
  /** For a form that was applied or closed by hand. */
  readonly forget: () => void;
}

/** Like `useState`, with values that outlive the closing of the desk. */
export function useKept<T>(forms: KeptForms<T>, key: string, first: () => T): KeptState<T> {
  const { byDesk, stored } = forms;
  const desk = useLeadDesk();
  const kept = byDesk.get(desk) ?? new Map<string, Kept<T>>();
  byDesk.set(desk, kept);
  const [value, setValue] = useState<Kept<T>>(() => {
    const before = stored === null ? null : takeStored(stored, key);
    return kept.get(key) ?? before ?? { value: first() };
  });
  return {
    value: value.value,
    set: (next) => {
      kept.set(key, { value: next });
      if (stored !== null) store(stored, key, next);
      setValue({ value: next });
    },
    forget: () => {
      kept.delete(key);
      if (stored !== null) dropStored(stored, key);
    },
  };
}
