/**
 * A window that only reads along may make a backup and give a case out. It asks the window that
 * writes to note that, and both tell it from the note.
 */
import type { Journal, JournalNews } from '../../storage/journal-types.ts';

interface Parts {
  readonly journal: Journal;
  /** The epoch to write with; null when another window writes. */
  readonly epoch: () => number | null;
}

type Asked = Extract<JournalNews, { type: 'asked-document' }>;

async function keep({ journal, epoch }: Parts, { kind, id, value }: Asked): Promise<void> {
  const own = epoch();
  if (own !== null) await journal.documents.put({ kind, id, value, epoch: own });
}

/** Notes what other windows ask for, as far as it is of these kinds, and hears of every change of them. */
export function keepAsked(
  parts: Parts,
  o: { readonly kinds: readonly string[]; readonly onChanged: () => void },
): void {
  parts.journal.subscribe((news) => {
    if (!('kind' in news) || !o.kinds.includes(news.kind)) return;
    if (news.type === 'document') o.onChanged();
    else void keep(parts, news).then(o.onChanged);
  });
}
