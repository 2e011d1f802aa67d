/** Tells other tabs of this device what was written, and hears what they tell. */
import type { JournalEntry, JournalNews } from './journal-types.ts';
import { fieldsOf, parseEntry } from './parse-stored.ts';

export interface TabChannel {
  tell(news: JournalNews): void;
  /** Returns the way to stop. */
  hear(listener: (news: JournalNews) => void): () => void;
  close(): void;
}

/** A channel between the tabs of one origin. What another version says and this one cannot read is left out. */
export function createTabChannel(name: string): TabChannel {
  const channel = new BroadcastChannel(name);
  const listeners = new Set<(news: JournalNews) => void>();
  channel.onmessage = ({ data }: MessageEvent<unknown>) => {
    const news = parseNews(data);
    if (news !== null) for (const listener of listeners) listener(news);
  };
  return {
    tell: (news) => channel.postMessage(news),
    hear: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: () => channel.close(),
  };
}

/** The news, or null when it is none. */
export function parseNews(value: unknown): JournalNews | null {
  const { type, caseId, entries, kind, id } = fieldsOf(value) ?? {};
  if (type === 'document' && typeof kind === 'string' && typeof id === 'string') {
    return { type, kind, id };
  }
  if (typeof caseId !== 'string') return null;
  if (type === 'case-deleted') return { type, caseId };
  if (type !== 'entries' || !Array.isArray(entries)) return null;
  const parsed: JournalEntry[] = entries.flatMap((entry) => parseEntry(entry) ?? []);
  return parsed.length === entries.length ? { type, caseId, entries: parsed } : null;
}
