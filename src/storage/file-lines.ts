/**
 * The lines of the append-only file. One record a line, each the RFC 8785 canonical JSON of
 * `{record, body, sum}` in UTF-8, ended by one line feed; `sum` is the SHA-256 of the canonical
 * JSON of `{body, record}`. A line is accepted only if its bytes are exactly what this module would
 * write for its content, so that every flipped bit shows, even one that JSON would not notice.
 */
import * as v from 'valibot';
import { fieldsOf, jsonOr } from '../base/json.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { hashHolds, hashText } from './hash-chain.ts';
import type { JournalEntry, StoredDocument, Tombstone } from './journal-types.ts';
import { RECORD_SCHEMAS } from './parse-stored.ts';

export type FileRecord =
  | { readonly record: 'entry'; readonly body: JournalEntry }
  | { readonly record: 'document'; readonly body: StoredDocument }
  | { readonly record: 'tombstone'; readonly body: Tombstone };

type UnreadableReason = 'torn' | 'not-text' | 'not-json' | 'shape' | 'sum' | 'not-canonical';

/** A line that cannot be read, as it stands. */
interface UnreadableLine {
  /** Counted from 0. */
  readonly line: number;
  readonly reason: UnreadableReason;
  readonly text: string;
}

export interface FileContent {
  readonly records: readonly FileRecord[];
  readonly unreadable: readonly UnreadableLine[];
}

const recordSchema = v.variant('record', RECORD_SCHEMAS);

const LINE_FEED = 0x0a;
const encoder = new TextEncoder();
const strictDecoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
const lenientDecoder = new TextDecoder('utf-8', { ignoreBOM: true });

/** The SHA-256 that names a record: equal records have equal sums in both homes. */
export function recordSum({ record, body }: FileRecord): string {
  return hashText(canonicalText({ body, record }));
}

/** One line with its line feed. */
export function encodeRecord(record: FileRecord): string {
  return `${canonicalText({ ...record, sum: recordSum(record) })}\n`;
}

/** The bytes of several lines. */
export function encodeRecords(records: readonly FileRecord[]): Uint8Array<ArrayBuffer> {
  return encoder.encode(records.map(encodeRecord).join(''));
}

/** Reads the bytes of a file, or of a part of it that starts at a line. */
export function readLines(bytes: Uint8Array): FileContent {
  const records: FileRecord[] = [];
  const unreadable: UnreadableLine[] = [];
  let start = 0;
  for (let line = 0; start < bytes.length; line += 1) {
    const feed = bytes.indexOf(LINE_FEED, start);
    const end = feed === -1 ? bytes.length : feed;
    const found = feed === -1 ? 'torn' : readLine(bytes.subarray(start, end));
    if (typeof found !== 'string') records.push(found);
    // Blank lines close a torn line before new writing; they carry nothing.
    else if (end > start) {
      const text = lenientDecoder.decode(bytes.subarray(start, end));
      unreadable.push({ line, reason: found, text });
    }
    start = end + 1;
  }
  return { records, unreadable };
}

function readLine(bytes: Uint8Array): FileRecord | UnreadableReason {
  let text: string;
  try {
    text = strictDecoder.decode(bytes);
  } catch {
    return 'not-text';
  }
  const json = jsonOr(text);
  if (json === null) return 'not-json';
  const record = parsedOr(recordSchema, json.value);
  if (record === null) return 'shape';
  try {
    if (fieldsOf(json.value)['sum'] !== recordSum(record)) return 'sum';
    if (record.record === 'entry' && !hashHolds(record.body)) return 'sum';
    return encodeRecord(record) === `${text}\n` ? record : 'not-canonical';
  } catch {
    // Half a surrogate pair, or nesting that no writer of ours produces.
    return 'not-canonical';
  }
}
