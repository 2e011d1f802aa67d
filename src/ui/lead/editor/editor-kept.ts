/**
 * What is typed into a form of the desk and was not applied yet. The desk closes when nobody touches
 * it, and its pages go with it; what was typed is there again once it is opened.
 */
import { useState } from 'react';
import type { LeadDesk } from '../../../runtime/lead/lead.ts';
import { useLeadDesk } from '../use-lead.ts';

interface Kept<T> {
  readonly value: T;
}

/** Values by desk and key. One is made for each kind of form, outside of any component. */
export type KeptForms<T> = WeakMap<LeadDesk, Map<string, Kept<T>>>;

export function keptForms<T>(): KeptForms<T> {
  return new WeakMap();
}

interface KeptState<T> {
  readonly value: T;
  readonly set: (value: T) => void;
  /** For a form that was applied or closed by hand. */
  readonly forget: () => void;
}

/** Like `useState`, with values that outlive the closing of the desk. */
export function useKept<T>(forms: KeptForms<T>, key: string, first: () => T): KeptState<T> {
  const desk = useLeadDesk();
  const kept = forms.get(desk) ?? new Map<string, Kept<T>>();
  forms.set(desk, kept);
  const [value, setValue] = useState<Kept<T>>(() => kept.get(key) ?? { value: first() });
  return {
    value: value.value,
    set: (next) => {
      kept.set(key, { value: next });
      setValue({ value: next });
    },
    forget: () => kept.delete(key),
  };
}
