/** Tells other tabs of this device what was written, and hears what they tell. */
import * as v from 'valibot';
import { parsedOr } from '../protocol/read-outside.ts';
import type { JournalNews } from './journal-types.ts';
import { entrySchema } from './parse-stored.ts';

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

const newsSchema = v.variant('type', [
  v.object({ type: v.literal('document'), kind: v.string(), id: v.string() }),
  v.object({
    type: v.literal('asked-document'),
    kind: v.string(),
    id: v.string(),
    value: v.unknown(),
  }),
  v.object({ type: v.literal('case-deleted'), caseId: v.string() }),
  v.object({ type: v.literal('entries'), caseId: v.string(), entries: v.array(entrySchema) }),
]);

/** The news, or null when it is none. */
function parseNews(value: unknown): JournalNews | null {
  return parsedOr(newsSchema, value);
}
