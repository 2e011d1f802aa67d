/**
 * What stands in a form of this room outlives a look at another place and a page that was loaded anew; it
 * ends with the window.
 */
import { useState } from 'react';

const drafts = new Map<string, unknown>();

/** Raise the number when a draft gets another shape: an older one is then begun anew. */
const placeOf = (key: string): string => `follow-up 1 ${key}`;

/** Whether a value has every field of another, each of its kind; null goes with anything. */
function isLike(value: unknown, like: object): boolean {
  if (typeof value !== 'object' || value === null) return false;
  const kinds = new Map<string, unknown>(Object.entries(value));
  return Object.entries(like).every(([name, field]) => {
    const kept = kinds.get(name);
    if (kept === null || field === null) return kinds.has(name);
    return typeof kept === typeof field && Array.isArray(kept) === Array.isArray(field);
  });
}

function stored<Draft extends object>(key: string, begun: Draft): Draft {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(placeOf(key)) ?? 'null');
    return isLike(kept, begun) ? (kept as Draft) : begun;
  } catch {
    return begun;
  }
}

function store(key: string, draft: object): void {
  try {
    sessionStorage.setItem(placeOf(key), JSON.stringify(draft));
  } catch {
    // Without room it still outlives a look at another place.
  }
}

export interface KeptDraft<Draft> {
  readonly draft: Draft;
  readonly change: (next: Draft) => void;
  /** Forgets what was typed, after it was noted or dropped on purpose. */
  readonly forget: () => void;
}

/** The draft under `key`, begun by `begin` when there is none yet. */
export function useKeptDraft<Draft extends object>(
  key: string,
  begin: () => Draft,
): KeptDraft<Draft> {
  const [draft, setDraft] = useState<Draft>(() => {
    const kept = drafts.get(key);
    return kept === undefined ? stored(key, begin()) : (kept as Draft);
  });
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
