/** A form over one entry: what is typed, what is wrong with it, and applying it. */

import { useState } from 'react';
import { isSameJson } from '../../../base/json.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { withField } from '../../../protocol/schema-fields.ts';
import {
  type FormOwner,
  type FormProblems,
  formProblems,
  NO_PROBLEMS,
} from './editor-form-problems.ts';
import { type KeptForms, useKept } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

export interface Form<T> {
  readonly value: T;
  /** The entry as the form found it. */
  readonly first: T;
  readonly set: (value: T) => void;
  readonly problems: FormProblems;
  /** Counts the attempts to apply what cannot be applied. */
  readonly tries: number;
  /** Why the draft did not take what was applied, where no field says it. */
  readonly refused: string | null;
  readonly apply: () => void;
  readonly close: () => void;
}

interface FormOf<T> {
  readonly draft: OpenDraft;
  readonly part: FormOwner;
  readonly id: string;
  readonly fields: readonly string[];
  readonly first: () => T;
  /** Null while what is typed cannot be told in edits at all. */
  readonly editsOf: (value: T) => readonly Edit[] | null;
  readonly onClose: () => void;
}

/** What the fields of an entry need of a form over that entry. */
export function fieldsOf<T extends object>({ value, set, problems }: Form<T>) {
  return {
    entry: value,
    set: (key: keyof T & string, next: unknown): void => set(withField(value, key, next)),
    problemAt: problems.at,
  };
}

/**
 * One form. What is typed outlives the closing of the desk; nothing is said to be wrong before
 * something was typed or applied.
 */
export function useForm<T>(forms: KeptForms<T>, o: FormOf<T>): Form<T> {
  const { draft, part, id, fields } = o;
  const { value, set, forget } = useKept(forms, `${draft.saved.id} ${part} ${id}`, o.first);
  const [tries, setTries] = useState(0);
  const edits = o.editsOf(value);
  const first = o.first();
  const isTouched = tries > 0 || !isSameJson(value, first);
  const problems =
    edits === null || edits.length === 0
      ? NO_PROBLEMS
      : formProblems({ protocol: draft.protocol, edits, part, id, fields });
  const close = (): void => {
    forget();
    o.onClose();
  };
  return {
    value,
    first,
    set,
    problems: isTouched ? problems : NO_PROBLEMS,
    tries,
    refused: tries > 0 && problems === NO_PROBLEMS ? draft.words : null,
    apply: () => {
      if (edits !== null && !problems.blocks && draft.editAll(edits)) close();
      else setTries(tries + 1);
    },
    close,
  };
}
