/**
 * Drafts of this window, so that neither a look at another place nor a page that was loaded anew
 * costs what was typed. They end with the window; keeping a case is what makes it last.
 */
import { useState } from 'react';
import type { Fact } from '../../protocol/facts.ts';
import type { CaseDraft } from './set-up-model.ts';
import type { DraftUnit } from './set-up-units.ts';

/** What every part of the form is given. */
export interface DraftPartProps {
  readonly draft: CaseDraft;
  readonly change: (next: CaseDraft) => void;
  /** Words of what is wrong with the field at a place; undefined while nothing was found. */
  readonly problemAt: (place: string) => string | undefined;
}

/** What the parts of one unit are given besides. */
export interface UnitPartProps extends DraftPartProps {
  readonly unit: DraftUnit;
  readonly index: number;
  /** What the steps of the protocol depend on. */
  readonly asks: ReadonlySet<Fact>;
  /** How the unit is called: "13–(12)". */
  readonly labelOf: (unit: DraftUnit) => string;
}

const drafts = new Map<string, CaseDraft>();

/** Raise the number when a draft gets another shape: an older one is then begun anew. */
const placeOf = (key: string): string => `set-up 3 ${key}`;

/** Whether what was stored has every field of a draft, each of its kind. */
function isDraft(value: unknown, like: CaseDraft): value is CaseDraft {
  if (typeof value !== 'object' || value === null) return false;
  const kinds = new Map(Object.entries(value).map(([name, field]) => [name, typeof field]));
  return Object.entries(like).every(([name, field]) => {
    return name === 'base' || kinds.get(name) === typeof field;
  });
}

/** What stood in the form when the page went; the case it changes is read anew. */
function stored(key: string, like: CaseDraft): CaseDraft {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(placeOf(key)) ?? 'null');
    return isDraft(kept, like) ? { ...kept, base: like.base } : like;
  } catch {
    return like;
  }
}

function store(key: string, { base: _, ...typed }: CaseDraft): void {
  try {
    sessionStorage.setItem(placeOf(key), JSON.stringify(typed));
  } catch {
    // Without room it still outlives a look at another place.
  }
}

interface KeptDraft {
  readonly draft: CaseDraft;
  readonly change: (next: CaseDraft) => void;
  /** Forgets what was typed, after it was kept or dropped on purpose. */
  readonly forget: () => void;
}

/** The draft under `key`, begun by `begin` when there is none yet. */
export function useDraft(key: string, begin: () => CaseDraft): KeptDraft {
  const [draft, setDraft] = useState(() => drafts.get(key) ?? stored(key, begin()));
  return {
    draft,
    change: (next) => {
      drafts.set(key, next);
      store(key, next);
      setDraft(next);
    },
    forget: () => {
      drafts.delete(key);
      sessionStorage.removeItem(placeOf(key));
    },
  };
}
