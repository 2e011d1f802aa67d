/**
 * A journal as one JSON document. Every entry stands on a line of its own as RFC 8785 canonical JSON,
 * so that damage to one line leaves the lines before it readable, and the text of a journal is the
 * same wherever it is written. Reading it back needs the shapes of all events and is apart, because
 * the app only writes.
 */
import { keptText } from '../protocol/canonical-text.ts';
import type { ExportEntry, SecondEnd } from './export-source.ts';

export const JOURNAL_FORMAT = 'lutewatch-journal';
/** The head of a journal without entries. */
export const NO_HASH = '0'.repeat(64);

/** Writes a journal. The same entries always give the same text, which ends in a line feed. */
export function journalJson(journal: {
  readonly caseId: string;
  readonly entries: readonly ExportEntry[];
  readonly apart?: readonly unknown[];
  readonly secondEnds?: readonly SecondEnd[];
}): string {
  const { caseId, entries, apart = [], secondEnds = [] } = journal;
  const head = {
    format: JOURNAL_FORMAT,
    formatVersion: 1,
    caseId,
    count: entries.length,
    head: entries.at(-1)?.hash ?? NO_HASH,
  };
  const lines = entries.map(keptText).join(',\n');
  const body = lines === '' ? '' : `\n${lines}\n`;
  const others = apart.length === 0 ? '' : `,"apart":[\n${apart.map(keptText).join(',\n')}\n]`;
  const ends =
    secondEnds.length === 0 ? '' : `,"secondEnds":[\n${secondEnds.map(keptText).join(',\n')}\n]`;
  return `${JSON.stringify(head).slice(0, -1)},"entries":[${body}]${others}${ends}}\n`;
}
