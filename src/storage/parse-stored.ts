/**
 * The only door for what comes back from storage, from a file line or from another tab: it enters
 * as unknown and leaves typed, or as null. The content of an event is not looked into here: its hash
 * vouches for it.
 */
import * as v from 'valibot';
import type { Stamp } from '../engine/types.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import type { JournalEntry, StoredDocument, Tombstone } from './journal-types.ts';

const countSchema = v.pipe(v.number(), v.safeInteger(), v.minValue(0));
const hashSchema = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/));
const personSchema = v.nullable(v.string());
const instantSchema = v.pipe(v.number(), v.finite());

const stampSchema = v.object({ wallMs: instantSchema, monoMs: instantSchema, runId: v.string() });

// The hash covers the known fields only, so a further one must not slip in beside them.
const entryShape = v.strictObject({
  caseId: v.string(),
  seq: countSchema,
  press: countSchema,
  epoch: countSchema,
  stamp: stampSchema,
  by: personSchema,
  event: v.looseObject({ type: v.string() }),
  prev: hashSchema,
  hash: hashSchema,
});

const tombstoneShape = v.object({
  caseId: v.string(),
  entries: countSchema,
  epoch: countSchema,
  head: hashSchema,
  stamp: stampSchema,
  by: personSchema,
  reason: v.string(),
});

const documentShape = v.object({
  kind: v.string(),
  id: v.string(),
  value: v.unknown(),
  version: countSchema,
  epoch: countSchema,
});

/** A schema that lets the value itself through, not a copy: what was hashed stays as it is. */
const itself = <T>(shape: v.GenericSchema) => v.custom<T>((value) => v.is(shape, value));

export const entrySchema = itself<JournalEntry>(entryShape);
const tombstoneSchema = itself<Tombstone>(tombstoneShape);
const documentSchema = itself<StoredDocument>(documentShape);

/** What a line of a file holds, by the name of its kind. */
export const RECORD_SCHEMAS = [
  v.object({ record: v.literal('entry'), body: entrySchema }),
  v.object({ record: v.literal('document'), body: documentSchema }),
  v.object({ record: v.literal('tombstone'), body: tombstoneSchema }),
] as const;

/** The entry, or null when `value` has not its shape. */
export function parseEntry(value: unknown): JournalEntry | null {
  return parsedOr(entrySchema, value);
}

/** The stamp, or null when `value` has not its shape. */
export function parseStamp(value: unknown): Stamp | null {
  return parsedOr(itself<Stamp>(stampSchema), value);
}
