/**
 * The only door for what comes back from storage, from a file line or from another tab: it enters
 * as unknown and leaves typed, or as null. The content of an event is not looked into here: its hash
 * vouches for it.
 */
import type { CaseEvent, Stamp } from '../engine/types.ts';
import type { JournalEntry, StoredDocument, Tombstone } from './journal-types.ts';

type Fields = Readonly<Record<string, unknown>>;

const ENTRY_KEYS = 9;
const HASH = /^[0-9a-f]{64}$/;

/** The object's fields, or null when `value` is not a plain object. */
export function fieldsOf(value: unknown): Fields | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Fields)
    : null;
}

const isCount = (value: unknown): value is number =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;

const isHash = (value: unknown): value is string => typeof value === 'string' && HASH.test(value);

const isPerson = (value: unknown): value is string | null =>
  value === null || typeof value === 'string';

function isStamp(value: unknown): value is Stamp {
  const fields = fieldsOf(value);
  return (
    fields !== null &&
    Number.isFinite(fields['wallMs']) &&
    Number.isFinite(fields['monoMs']) &&
    typeof fields['runId'] === 'string'
  );
}

function isEvent(value: unknown): value is CaseEvent {
  return typeof fieldsOf(value)?.['type'] === 'string';
}

/** The entry, or null when `value` has not its shape. */
export function parseEntry(value: unknown): JournalEntry | null {
  const fields = fieldsOf(value);
  if (fields === null) return null;
  const sound =
    // The hash covers the known fields only, so a further one must not slip in beside them.
    Object.keys(fields).length === ENTRY_KEYS &&
    typeof fields['caseId'] === 'string' &&
    isCount(fields['seq']) &&
    isCount(fields['press']) &&
    isCount(fields['epoch']) &&
    isStamp(fields['stamp']) &&
    isPerson(fields['by']) &&
    isEvent(fields['event']) &&
    isHash(fields['prev']) &&
    isHash(fields['hash']);
  return sound ? (value as JournalEntry) : null;
}

/** The tombstone, or null when `value` has not its shape. */
export function parseTombstone(value: unknown): Tombstone | null {
  const fields = fieldsOf(value);
  if (fields === null) return null;
  const sound =
    typeof fields['caseId'] === 'string' &&
    isCount(fields['entries']) &&
    isCount(fields['epoch']) &&
    isHash(fields['head']) &&
    isStamp(fields['stamp']) &&
    isPerson(fields['by']) &&
    typeof fields['reason'] === 'string';
  return sound ? (value as Tombstone) : null;
}

/** The document, or null when `value` has not its shape. */
export function parseDocument(value: unknown): StoredDocument | null {
  const fields = fieldsOf(value);
  if (fields === null) return null;
  const sound =
    typeof fields['kind'] === 'string' &&
    typeof fields['id'] === 'string' &&
    'value' in fields &&
    isCount(fields['version']) &&
    isCount(fields['epoch']);
  return sound ? (value as StoredDocument) : null;
}

/** The stamp, or null when `value` has not its shape. */
export function parseStamp(value: unknown): Stamp | null {
  return isStamp(value) ? value : null;
}
