/**
 * The channel between the windows of a tablet, with two more ends in this window: what it wrote is told here
 * after it was stored, and what came from other tablets is heard like the word of another window. With nobody
 * at those ends it is the channel.
 */
import type { JournalNews } from '../../storage/journal-types.ts';
import type { TabChannel } from '../../storage/tab-channel.ts';
import { signal } from '../signal.ts';

type Hear = (news: JournalNews) => void;

export interface ToldChannel extends TabChannel {
  /** Tells what this window wrote, once it is stored. Returns the way to stop. */
  onOwn(listener: Hear): () => void;
  /** Tells this window of what came from other tablets. */
  bring(news: JournalNews): void;
}

export function toldChannel(channel: TabChannel): ToldChannel {
  const own = signal<JournalNews>();
  const heard = signal<JournalNews>();
  return {
    tell(news) {
      channel.tell(news);
      own.emit(news);
    },
    hear(listener) {
      const stops = [channel.hear(listener), heard.listen(listener)];
      return () => {
        for (const stop of stops) stop();
      };
    },
    onOwn: (listener) => own.listen(listener),
    bring: (news) => heard.emit(news),
    close: () => channel.close(),
  };
}
