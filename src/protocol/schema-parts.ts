/**
 * The small pieces that every document schema is made of. Each message says what was expected, in
 * words that can stand after "expected"; `document-problems.ts` turns issues into problems with
 * their places. What cannot be said in JSON Schema (real calendar dates, duplicates) is left to
 * the parse files.
 */
import * as v from 'valibot';
import { MISHAPS } from './vocabulary.ts';

export const TEXT_LENGTH_MAX = 1000;
/** Thirty days: longer than any figure of one appointment, short enough to catch a slipped unit. */
export const DURATION_MS_MAX = 30 * 24 * 60 * 60 * 1000;

/** A strict object. A missing key is answered with what that key should have held. */
export function record<const Entries extends v.ObjectEntries>(entries: Entries, what: string) {
  return v.strictObject(entries, (issue) => {
    const key = issue.path?.at(-1)?.key;
    if (issue.received !== 'undefined' || typeof key !== 'string') return what;
    const entry = entries[key];
    if (entry === undefined || entry.async) return what;
    return v.safeParse(entry, undefined).issues?.[0].message ?? what;
  });
}

/** A list with at most `max` entries, so that noise cannot become a document. */
export function list<const Item extends v.GenericSchema>(item: Item, what: string, max = 400) {
  return v.pipe(v.array(item, what), v.maxLength(max, `at most ${max} entries`));
}

/** Words for people: not empty, and not a book. */
export function text(what: string) {
  return v.pipe(
    v.string(what),
    v.minLength(1, what),
    v.maxLength(TEXT_LENGTH_MAX, `at most ${TEXT_LENGTH_MAX} characters`),
  );
}

/**
 * Marks the texts of a document that people read in their own language. It is known by identity,
 * because what it held would come to stand in the published schema.
 */
const TOLD = v.metadata<string, Readonly<Record<string, never>>>({});

/**
 * A text that people read in their own language: a translation may say it otherwise. Names by which
 * documents know each other, citations and quotations are plain {@link text}.
 */
export function told(what: string) {
  return v.pipe(
    v.string(what),
    v.minLength(1, what),
    v.maxLength(TEXT_LENGTH_MAX, `at most ${TEXT_LENGTH_MAX} characters`),
    TOLD,
  );
}

/** Whether a schema is one of {@link told}. */
export function isTold(schema: v.GenericSchema): boolean {
  return 'pipe' in schema && Array.isArray(schema.pipe) && schema.pipe.includes(TOLD);
}

/** One of a fixed set of words. */
export function oneOf<const Options extends readonly [string, ...string[]]>(options: Options) {
  return v.picklist(options, `one of ${options.map((option) => `"${option}"`).join(', ')}`);
}

const idWords = 'an id of small letters, digits and single hyphens, such as "acid-rinse"';

/** How parts of a document name each other. */
export const idSchema = v.pipe(
  v.string(idWords),
  v.maxLength(64, 'an id of at most 64 characters'),
  v.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, idWords),
);

/** A key that may be left out, but may not be present without a value. */
export function maybe<const Wrapped extends v.GenericSchema>(wrapped: Wrapped) {
  return v.exactOptional(wrapped);
}

const dateWords = 'a date such as "2026-11-25"';
export const dateSchema = v.pipe(
  v.string(dateWords),
  v.regex(/^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$/, dateWords),
);

export const basisSchema = v.variant(
  'kind',
  [
    record(
      {
        kind: v.literal('instructions'),
        document: text('the name of the document'),
        revision: text('the revision or date of the document'),
        page: maybe(text('the page')),
        asWritten: maybe(text('the sentence as it stands in the document')),
        confirmedBy: text('who confirmed it'),
        confirmedOn: dateSchema,
        reviewDue: maybe(dateSchema),
      },
      'a basis { kind, … }',
    ),
    record(
      {
        kind: v.literal('published'),
        source: idSchema,
        note: maybe(told('a note in words')),
      },
      'a basis { kind, … }',
    ),
    record(
      { kind: v.literal('practice'), note: maybe(told('a note in words')) },
      'a basis { kind, … }',
    ),
  ],
  'a basis of kind "instructions", "published" or "practice"',
);

function figure<const Value extends v.GenericSchema<unknown, number>>(value: Value, unit: string) {
  return record({ value, basis: basisSchema }, `a figure { value, basis } in ${unit}`);
}

const wholeWords = 'a whole number above 0';
const whole = (max: number, maxWords: string) =>
  v.pipe(
    v.number(wholeWords),
    v.integer(wholeWords),
    v.minValue(1, wholeWords),
    v.maxValue(max, maxWords),
  );

/** Whole milliseconds above zero. */
export const durationFigureSchema = figure(
  whole(DURATION_MS_MAX, 'at most 30 days in milliseconds'),
  'milliseconds',
);

export const COUNT_MAX = 100;
export const DOSE_J_PER_CM2_MAX = 1000;

/** A number of coats or passes. */
export const countFigureSchema = figure(whole(COUNT_MAX, `at most ${COUNT_MAX}`), 'whole numbers');

/** Radiant exposure. */
export const doseFigureSchema = figure(
  v.pipe(
    v.number('a number above 0'),
    v.gtValue(0, 'a number above 0'),
    v.maxValue(DOSE_J_PER_CM2_MAX, `at most ${DOSE_J_PER_CM2_MAX} J/cm2`),
  ),
  'J/cm2',
);

/** How many times faster something runs 10 degrees warmer; below 1 it would lengthen a limit. */
export const ratioFigureSchema = figure(
  v.pipe(
    v.number('a number from 1 to 10'),
    v.minValue(1, 'a number from 1 to 10'),
    v.maxValue(10, 'a number from 1 to 10'),
  ),
  'times per 10 C',
);

/** A plain number inside fixed limits. */
export function inRange(limits: { readonly min: number; readonly max: number }, unit: string) {
  const words = `a number from ${limits.min} to ${limits.max} (${unit})`;
  return v.pipe(v.number(words), v.minValue(limits.min, words), v.maxValue(limits.max, words));
}

/** What can go wrong, wherever a document or a log names it. */
export const mishapSchema = oneOf(MISHAPS);
