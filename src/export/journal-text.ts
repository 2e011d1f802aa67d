/**
 * A journal as one JSON document. Every entry stands on a line of its own as RFC 8785 canonical JSON,
 * so that damage to one line leaves the lines before it readable, and the text of a journal is the
 * same wherever it is written. Reading it back needs the shapes of all events and is apart, because
 * the app only writes.
 */
import canonicalize from 'canonicalize';
import { present } from '../base/assert.ts';
import type { ExportEntry } from './export-source.ts';

export const JOURNAL_FORMAT = 'lutewatch-journal';
/** The head of a journal without entries. */
export const NO_HASH = '0'.repeat(64);

/** RFC 8785 text of something that came from JSON; half a surrogate pair is told as an escape. */
function lineOf(value: unknown): string {
  try {
    return present(canonicalize(value), 'canonical JSON');
  } catch {
    return JSON.stringify(value);
  }
}

/** Writes a journal. The same entries always give the same text, which ends in a line feed. */
export function journalJson(journal: {
  readonly caseId: string;
  readonly entries: readonly ExportEntry[];
  readonly apart?: readonly unknown[];
}): string {
  const { caseId, entries, apart = [] } = journal;
  const head = {
    format: JOURNAL_FORMAT,
    formatVersion: 1,
    caseId,
    count: entries.length,
    head: entries.at(-1)?.hash ?? NO_HASH,
  };
  const lines = entries.map(lineOf).join(',\n');
  const body = lines === '' ? '' : `\n${lines}\n`;
  const others = apart.length === 0 ? '' : `,"apart":[\n${apart.map(lineOf).join(',\n')}\n]`;
  return `${JSON.stringify(head).slice(0, -1)},"entries":[${body}]${others}}\n`;
}
