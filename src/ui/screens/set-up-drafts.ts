/**
 * Drafts of this window, so that a look at another place does not cost what was typed. They end
 * with the window; keeping a case is what makes it last.
 */
import { useState } from 'react';
import type { Draft } from './set-up-model.ts';
import type { DraftUnit } from './set-up-units.ts';

/** What every part of the form is given. */
export interface DraftPartProps {
  readonly draft: Draft;
  readonly change: (next: Draft) => void;
  /** Words of what is wrong with the field at a place; undefined while nothing was found. */
  readonly problemAt: (place: string) => string | undefined;
}

/** What the parts of one unit are given besides. */
export interface UnitPartProps extends DraftPartProps {
  readonly unit: DraftUnit;
  readonly index: number;
  /** How the unit is called: "13–(12)". */
  readonly labelOf: (unit: DraftUnit) => string;
}

const drafts = new Map<string, Draft>();

export interface KeptDraft {
  readonly draft: Draft;
  readonly change: (next: Draft) => void;
  /** Forgets what was typed, after it was kept or dropped on purpose. */
  readonly forget: () => void;
}

/** The draft under `key`, begun by `begin` when there is none yet. */
export function useDraft(key: string, begin: () => Draft): KeptDraft {
  const [draft, setDraft] = useState(() => drafts.get(key) ?? begin());
  return {
    draft,
    change: (next) => {
      drafts.set(key, next);
      setDraft(next);
    },
    forget: () => drafts.delete(key),
  };
}
