/**
 * What a new version of the shipped protocols corrects in the one before, as it was told with that
 * version: where, why, and whether the old way could hurt somebody. A clinic's confirmed revision is
 * never changed by it; the rows only say which differences the clinic lead should look at first.
 */
import * as v from 'valibot';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { PARTS } from './edit-types.ts';
import { readOutside } from './read-outside.ts';
import { idSchema, list, maybe, record, text } from './schema-parts.ts';

const ROWS_MAX = 2000;

const placeWords = 'a place such as "steps/etch/action.maxMs" or "steps/etch/added"';

const placeSchema = v.pipe(
  v.string(placeWords),
  v.regex(
    new RegExp(`^(?:protocol/|(?:${PARTS.join('|')})/[a-z0-9-]+)/[A-Za-z0-9.-]+$`),
    placeWords,
  ),
);

const correctionSchema = record(
  {
    /** Id of the protocol. */
    protocol: idSchema,
    /** Names a change as `changeId` of `diff.ts` does. */
    place: placeSchema,
    /** What stood there, and what stands there now, for whoever reads the file. */
    was: maybe(v.unknown()),
    now: maybe(v.unknown()),
    hurts: v.boolean('true or false'),
    reason: text('the reason in words'),
    /** A source of the protocol by its id, or where it can be read. */
    source: maybe(text('a source')),
  },
  'a correction { protocol, place, hurts, reason, … }',
);

export type Correction = v.InferOutput<typeof correctionSchema>;

const correctionsSchema = list(correctionSchema, 'a list of corrections', ROWS_MAX);

/** The rows of a corrections file. Errors: the first thing that is wrong, with its place. */
export function parseCorrections(value: unknown): Result<readonly Correction[], Problem> {
  const read = readOutside(correctionsSchema, value, 'corrections');
  return read.ok ? ok(read.value) : err(read.error[0]);
}
