/**
 * Shape of an exported journal, format version 1. The published JSON Schema is made from it. It
 * says what each event holds; whether events follow from one another is for the engine, whether the
 * chain holds is for the hashes.
 */
import * as v from 'valibot';
import { EMERGENCY_ACTS, EMERGENCY_CARDS } from '../engine/aside-types.ts';
import type { MaterialLot, ShadeTrial } from '../engine/material-types.ts';
import type { RunPlan, SurfacePlan } from '../engine/run-plan-types.ts';
import type { Approval, CaseEvent } from '../engine/types.ts';
import { caseSchema } from '../protocol/schema-case.ts';
import { list, maybe, mishapSchema, oneOf, record } from '../protocol/schema-parts.ts';
import { protocolSchema } from '../protocol/schema-protocol.ts';

/** The most that a time value of ECMA-262 can hold. */
const WALL_MS_MAX = 8.64e15;
const WORDS_LENGTH_MAX = 20_000;

const countWords = 'a whole number, 0 or above';
const count = v.pipe(
  v.number(countWords),
  v.integer(countWords),
  v.minValue(0, countWords),
  v.maxValue(Number.MAX_SAFE_INTEGER, countWords),
);

const msWords = 'milliseconds';
const ms = v.pipe(
  v.number(msWords),
  v.minValue(-WALL_MS_MAX, msWords),
  v.maxValue(WALL_MS_MAX, msWords),
);

/** Words of people; unlike those of a document they may be empty. */
const words = (what: string) =>
  v.pipe(v.string(what), v.maxLength(WORDS_LENGTH_MAX, `at most ${WORDS_LENGTH_MAX} characters`));

const name = (what: string) => v.pipe(v.string(what), v.minLength(1, what), v.maxLength(200, what));

const hashWords = 'a SHA-256 of 64 small hexadecimal digits';
const hash = v.pipe(v.string(hashWords), v.regex(/^[0-9a-f]{64}$/, hashWords));

export const stampSchema = record(
  { wallMs: ms, monoMs: ms, runId: words('the id of a browser run') },
  'a stamp { wallMs, monoMs, runId }',
);

/** Whether there are rules for it is not asked: a later edition may have more zones than this engine. */
const zoneWords = 'a name of the IANA time zone database such as "Europe/Lisbon"';
const zone = v.pipe(v.string(zoneWords), v.regex(/^[A-Za-z][A-Za-z0-9_+/-]{0,63}$/, zoneWords));

const subject = name('a subject such as "tooth:11"');
const subjects = list(subject, 'a list of subjects', 500);
const units = list(name('a unit id'), 'a list of unit ids', 100);
const step = name('a step id');
const surface = oneOf(['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual']);
const role = oneOf(['dentist', 'assistant']);
const reason = words('a reason in words');

const surfacePlanSchema = record(
  {
    surface,
    setMs: ms,
    presses: maybe(list(ms, 'a list of presses in ms', 20)),
    positions: count,
    decidedBy: oneOf(['product', 'dose']),
    reason: maybe(
      record(
        {
          productMs: maybe(ms),
          doseMs: maybe(v.number('ms')),
          doseJPerCm2: maybe(v.number('J/cm2')),
          behindMm: maybe(v.number('mm')),
          isHeld: maybe(v.boolean('true or false')),
        },
        '{ productMs?, doseMs?, doseJPerCm2?, behindMm?, isHeld? }',
      ),
    ),
    covers: maybe(
      record(
        {
          widthMm: v.number('mm'),
          heightMm: v.number('mm'),
          spots: list(
            record({ xMm: v.number('mm'), yMm: v.number('mm') }, '{ xMm, yMm }'),
            'a list of spots',
          ),
        },
        '{ widthMm, heightMm, spots }',
      ),
    ),
  },
  'a surface plan { surface, setMs, presses?, positions, decidedBy, reason?, covers? }',
);

const byName = <const Item extends v.GenericSchema>(item: Item, what: string) =>
  v.record(name('a name'), item, what);

export const planSchema = record(
  {
    order: units,
    mixes: list(units, 'a list of mixes', 200),
    rounds: byName(list(subjects, 'a list of rounds', 200), 'rounds by step'),
    exposures: byName(
      byName(list(surfacePlanSchema, 'a list of surface plans', 50), 'exposures by unit or tooth'),
      'exposures by step',
    ),
    restMs: maybe(byName(byName(ms, 'rests by unit or tooth'), 'rests by step')),
    windowMaxMs: maybe(byName(ms, 'maxima by window')),
    changeMs: maybe(byName(ms, 'change-over by step')),
  },
  'a plan { order, mixes, rounds, exposures, restMs?, windowMaxMs?, changeMs? }',
);

const approvalSchema = record(
  {
    hash: words('a hash'),
    by: words('who approved'),
    second: maybe(words('who approved as well')),
    onWallMs: ms,
  },
  'an approval { hash, by, second?, onWallMs }',
);

const unansweredSchema = record(
  {
    template: words('the hash of a template'),
    corrections: list(
      record(
        {
          place: words('the place of a change'),
          title: words('the title of an entry'),
          reason: words('a reason in words'),
        },
        'a correction { place, title, reason }',
      ),
      'a list of corrections',
      2000,
    ),
  },
  'what was not answered { template, corrections }',
);

const lotSchema = record(
  {
    materialClass: words('a generic class of material'),
    label: words('its own label'),
    lot: words('a lot'),
    expiry: maybe(words('a date')),
    openedOn: maybe(words('a date')),
    useBy: maybe(words('a date')),
    scanned: maybe(
      record({ text: words('the label'), issuer: words('GS1 or HIBC') }, '{ text, issuer }'),
    ),
    deviceIdentifier: maybe(words('a device identifier')),
    serial: maybe(words('a serial number')),
    warnings: list(words('a warning in words'), 'a list of warnings', 50),
  },
  'a lot { materialClass, label, lot, warnings, … }',
);

const trialSchema = record(
  {
    subject: name('"case" or a unit'),
    paste: words('a try-in paste'),
    modifier: maybe(words('a modifier')),
    sharePercent: maybe(v.number('percent')),
    judgedBy: words('who judged it'),
    result: oneOf(['accepted', 'too-light', 'too-dark', 'other']),
    note: maybe(words('a note in words')),
  },
  'a trial of a shade { subject, paste, judgedBy, result, … }',
);

const drillSchema = record(
  {
    seed: count,
    toward: list(mishapSchema, 'a list of kinds of mishap', 20),
    beginsAtMs: ms,
    again: maybe(name('the id of a card')),
  },
  'a drill { seed, toward, beginsAtMs, again? }',
);

const event = <const Type extends string, const Entries extends v.ObjectEntries>(
  type: Type,
  entries: Entries,
) => record({ type: v.literal(type), ...entries }, `an event of type "${type}"`);

const lit = { step, subject, surface, position: count };

const place = { subject, surface, position: count, setMs: ms, nth: maybe(count) };

const sweep = maybe(record({ shortestMs: ms, longestMs: ms }, 'a sweep { shortestMs, longestMs }'));

const tablet = name('the id of a tablet');

const notation = oneOf(['fdi', 'universal', 'palmer']);

export const eventSchema = v.variant(
  'type',
  [
    event('case-opened', {
      mode: oneOf(['patient', 'rehearsal']),
      spec: caseSchema,
      protocol: protocolSchema,
      protocolHash: words('the hash of the protocol'),
      approval: v.nullable(approvalSchema),
      plan: planSchema,
      zone: maybe(zone),
      tablet: maybe(tablet),
      unanswered: maybe(unansweredSchema),
      drill: maybe(drillSchema),
    }),
    event('step-confirmed', {
      step,
      subjects,
      evidence: maybe(words('evidence in words')),
      list: maybe(name('a list id')),
      impliedBy: maybe(step),
    }),
    event('step-started', { step, subjects, sweep }),
    event('step-ended', { step, subjects, sweep }),
    event('coat-applied', { step, subjects, impliedBy: maybe(step) }),
    event('pass-made', { step, subject }),
    event('option-chosen', {
      step,
      subjects,
      option: name('an option id'),
      evidence: maybe(words('evidence in words')),
      list: maybe(name('a list id')),
    }),
    event('exposure-started', { ...lit, setMs: ms }),
    event('exposure-stopped', lit),
    event('light-pass-begun', {
      step,
      places: list(
        record(
          { ...place, fromMs: ms },
          'a place { subject, surface, position, setMs, nth?, fromMs }',
        ),
        'a list of places',
        500,
      ),
      changeMs: ms,
    }),
    event('light-pass-stopped', { step }),
    event('light-pass-confirmed', {
      step,
      places: list(
        record(place, 'a place { subject, surface, position, setMs, nth? }'),
        'a list of places',
        500,
      ),
      impliedBy: maybe(step),
    }),
    event('tones-heard', { heard: v.boolean('true or false') }),
    event('step-skipped', { step, subjects, reason }),
    event('way-back-taken', {
      wayBack: v.nullable(name('a way back or null')),
      mishap: mishapSchema,
      subjects,
      voided: list(name('a step on a subject'), 'a list of steps on subjects', 20_000),
      reason,
    }),
    event('mix-added', { units, reason }),
    event('plan-changed', { plan: planSchema, reason }),
    event('bead-probed', { mix: subject, found: oneOf(['soft', 'stringy', 'firm']) }),
    event('material-named', { slot: name('a slot id'), material: lotSchema }),
    event('shade-tried', { trial: trialSchema }),
    event('emergency-noted', {
      card: oneOf(EMERGENCY_CARDS),
      act: oneOf(EMERGENCY_ACTS),
      line: maybe(name('a line of the card')),
    }),
    event('anaesthesia-given', {
      agent: name('an agent'),
      technique: name('a technique'),
      teeth: list(name('a tooth'), 'a list of teeth', 32),
      ml: maybe(v.pipe(v.number('mL'), v.minValue(0, 'mL'), v.maxValue(100, 'mL'))),
    }),
    event('gap-found', {
      before: stampSchema,
      after: stampSchema,
      cause: oneOf(['closed', 'asleep-or-moved', 'moved-back']),
    }),
    event('gap-settled', { gap: count, lengthMs: ms }),
    event('press-retimed', { press: count, byMs: ms }),
    event('press-retracted', { press: count }),
    event('cue-acknowledged', { cue: name('a cue id') }),
    event('note-added', {
      words: words('a note in words'),
      about: maybe(words('what the note is about')),
    }),
    event('numbering-changed', { notation }),
    event('visit-stopped', {
      reason: words('a reason'),
      proposals: list(
        record({ wayBack: name('the id of a way back'), subjects }, 'a proposal'),
        'a list of proposals',
        50,
      ),
    }),
    event('role-taken', { person: name('a person id'), role }),
    event('pen-given', {
      tablet,
      name: words('the name of a tablet'),
      to: v.nullable(tablet),
      toName: words('the name of a tablet'),
    }),
    event('pen-taken', {
      tablet,
      name: words('the name of a tablet'),
      fromName: words('the name of a tablet'),
      from: oneOf(['given', 'closed', 'gone']),
      reason: maybe(reason),
      seen: maybe(
        record(
          { stamp: stampSchema, atLeastMs: ms, atMostMs: v.nullable(ms) },
          'a reading { stamp, atLeastMs, atMostMs }',
        ),
      ),
      over: maybe(hash),
    }),
    event('case-closed', { signedBy: name('a person id'), role }),
  ],
  'an event that this version knows',
);

export const entrySchema = record(
  {
    caseId: words('the id of the case'),
    seq: count,
    press: count,
    epoch: count,
    stamp: stampSchema,
    by: v.nullable(words('a person id or null')),
    event: eventSchema,
    prev: hash,
    hash,
  },
  'an entry { caseId, seq, press, epoch, stamp, by, event, prev, hash }',
);

export const secondEndSchema = record(
  {
    tablet,
    name: v.nullable(words('the name of a tablet')),
    entries: v.array(entrySchema, 'a list of entries'),
    withoutPen: maybe(v.literal(true, 'true')),
  },
  'a second end { tablet, name, entries, withoutPen? }',
);

export const journalSchema = record(
  {
    format: v.literal('lutewatch-journal', '"lutewatch-journal"'),
    formatVersion: v.literal(1, 'the number 1'),
    caseId: words('the id of the case'),
    /** How many entries hold; a file that lost its end has fewer. */
    count,
    /** Hash of the last of them; 64 zeros when there is none. */
    head: hash,
    entries: v.array(entrySchema, 'a list of entries'),
    /** The first bad entry and what came after it, as it was found. */
    apart: maybe(v.array(v.unknown(), 'a list of what was set apart')),
    /** What other tablets pressed in the place of these entries: kept apart, never merged. */
    secondEnds: maybe(v.array(secondEndSchema, 'a list of second ends')),
  },
  'a journal, an object with "format": "lutewatch-journal"',
);

type Told = v.InferOutput<typeof eventSchema>;
type KeysOf<All extends { readonly type: string }, Type> = keyof Extract<All, { type: Type }>;
/**
 * Events, and keys of events, that the engine writes and this schema does not name. An event that is
 * missing altogether stands on its own line: the keys of nothing are all keys.
 */
type Untold =
  | Exclude<CaseEvent['type'], Told['type']>
  | {
      [Type in Told['type']]: Exclude<KeysOf<CaseEvent, Type>, KeysOf<Told, Type>>;
    }[Told['type']];
type UntoldParts =
  | Exclude<keyof RunPlan, keyof v.InferOutput<typeof planSchema>>
  | Exclude<keyof SurfacePlan, keyof v.InferOutput<typeof surfacePlanSchema>>
  | Exclude<keyof Approval, keyof v.InferOutput<typeof approvalSchema>>
  | Exclude<keyof MaterialLot, keyof v.InferOutput<typeof lotSchema>>
  | Exclude<keyof ShadeTrial, keyof v.InferOutput<typeof trialSchema>>;

/** Does not compile when an event has something that an exported journal could not be read with. */
export const SCHEMA_IS_WHOLE: [Untold | UntoldParts] extends [never] ? true : false = true;
