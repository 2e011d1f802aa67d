/**
 * Shape of a rehearsal script, format version 1: who presses what when, and what happens to the
 * device. The published JSON Schema is made from it. That each row says one thing only, and that
 * time does not go backwards, is checked in `parse-script.ts`.
 */
import * as v from 'valibot';
import {
  idSchema,
  inRange,
  list,
  maybe,
  mishapSchema,
  oneOf,
  record,
  text,
} from '../protocol/schema-parts.ts';
import { SIGNED_TIME_PATTERN, TIME_PATTERN } from './script-time.ts';

/** Largest number of rows; a case of ten units takes some 200 presses. */
const ROWS_MAX = 5000;
/** Thirty days. */
export const TIME_MS_MAX = 30 * 24 * 3_600_000;

/** Whole milliseconds from `min` to thirty days. Every step says the same words. */
function wholeMs(min: number, words: string) {
  return v.pipe(
    v.number(words),
    v.integer(words),
    v.minValue(min, words),
    v.maxValue(TIME_MS_MAX, words),
  );
}

const timeWords = 'a time such as "1:20", "80 s" or a whole number of milliseconds';
const timeSchema = v.union(
  [wholeMs(0, timeWords), v.pipe(v.string(timeWords), v.regex(TIME_PATTERN, timeWords))],
  timeWords,
);

const shiftWords = 'a length with its sign such as "-5 s", or a whole number of milliseconds';
const shiftSchema = v.union(
  [
    wholeMs(-TIME_MS_MAX, shiftWords),
    v.pipe(v.string(shiftWords), v.regex(SIGNED_TIME_PATTERN, shiftWords)),
  ],
  shiftWords,
);

const subjectWords = 'a subject such as "11", "tooth:11", "12-11" or "case"';
const subjectSchema = v.pipe(
  v.string(subjectWords),
  v.regex(/^[a-z0-9]+([:-][a-z0-9]+)*$/, subjectWords),
  v.maxLength(80, subjectWords),
);
const subjectsSchema = list(subjectSchema, 'a list of subjects', 64);

const surfaceSchema = oneOf(['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual']);
const roleSchema = oneOf(['dentist', 'assistant']);
const reasonSchema = text('a reason in words');

export const pressSchema = record(
  {
    kind: oneOf([
      'confirm',
      'start',
      'end',
      'coat',
      'pass',
      'all-passes',
      'passes-done',
      'choose',
      'light-on',
      'light-move',
      'light-off',
    ]),
    step: idSchema,
    subjects: maybe(subjectsSchema),
    surface: maybe(surfaceSchema),
    position: maybe(inRange({ min: 1, max: 100 }, 'position of the tip')),
    set: maybe(timeSchema),
    option: maybe(idSchema),
    evidence: maybe(text('what was read, chosen or scanned')),
    reason: maybe(reasonSchema),
  },
  'a press { kind, step, subjects?, … }',
);

const skipSchema = record(
  { step: idSchema, subjects: maybe(subjectsSchema), reason: reasonSchema },
  'a skip { step, subjects?, reason }',
);

const wayBackSchema = record(
  {
    id: maybe(idSchema),
    mishap: mishapSchema,
    subjects: subjectsSchema,
    voids: maybe(list(text('a step on a subject, such as "etch@tooth:11"'), 'a list', 400)),
    reason: reasonSchema,
  },
  'a way back { id?, mishap, subjects, reason }',
);

/** Keys of a row that say what happens; each row has exactly one of them. */
export const DEEDS = [
  'press',
  'follow',
  'skip',
  'undo',
  'retime',
  'wayBack',
  'addMix',
  'probe',
  'note',
  'role',
  'close',
  'sleep',
  'moveWall',
  'reload',
  'settleGap',
] as const;

const rowSchema = record(
  {
    at: maybe(timeSchema),
    after: maybe(timeSchema),
    by: maybe(idSchema),
    press: maybe(
      v.union([v.literal('next'), pressSchema], '"next" or a press { kind, step, subjects?, … }'),
    ),
    follow: maybe(v.literal(true, 'true')),
    paceFactor: maybe(inRange({ min: 0, max: 20 }, 'times the usual pace')),
    until: maybe(idSchema),
    skip: maybe(skipSchema),
    undo: maybe(v.literal(true, 'true')),
    retime: maybe(shiftSchema),
    wayBack: maybe(wayBackSchema),
    addMix: maybe(
      record(
        { units: list(idSchema, 'a list of unit ids', 32), reason: reasonSchema },
        'a mix { units, reason }',
      ),
    ),
    probe: maybe(
      record(
        { mix: subjectSchema, found: oneOf(['soft', 'stringy', 'firm']) },
        'a probe { mix, found }',
      ),
    ),
    note: maybe(text('a note in words')),
    role: maybe(record({ person: idSchema, role: roleSchema }, 'a role { person, role }')),
    close: maybe(record({ by: idSchema, role: roleSchema }, 'a sign-off { by, role }')),
    sleep: maybe(timeSchema),
    moveWall: maybe(shiftSchema),
    reload: maybe(timeSchema),
    settleGap: maybe(timeSchema),
  },
  'a row { at or after, press | follow | skip | undo | … }',
);

export const scriptSchema = record(
  {
    format: v.literal('lutewatch-script', '"lutewatch-script"'),
    formatVersion: v.literal(1, 'the number 1'),
    title: maybe(text('the title of the script')),
    note: maybe(text('a note in words')),
    by: maybe(idSchema),
    presses: list(rowSchema, 'a list of rows', ROWS_MAX),
  },
  'a script, an object with "format": "lutewatch-script"',
);

export type ScriptDocument = v.InferOutput<typeof scriptSchema>;
export type ScriptRow = v.InferOutput<typeof rowSchema>;
