/** Shape of a case file, format version 1. The published JSON Schema is made from it. */
import * as v from 'valibot';
import { dateSchema, idSchema, inRange, list, maybe, oneOf, record, text } from './schema-parts.ts';
import { CONDITIONED, OPACITIES, PROVISIONALS, SUBSTRATES } from './vocabulary.ts';

const toothWords = 'an FDI tooth number such as "11"';

/** ISO 3950 two-digit numbers of the permanent teeth. */
const toothSchema = v.pipe(v.string(toothWords), v.regex(/^[1-4][1-8]$/, toothWords));

const notationSchema = oneOf(['fdi', 'universal', 'palmer']);

/**
 * What the numbers of a case may be, by their key. A meter reads 0 behind thick ceramic because that
 * is its floor, so a share of 0 is refused.
 */
export const CASE_RANGES = {
  share: { min: 0.001, max: 1 },
  atThicknessMm: { min: 0.1, max: 20 },
  thicknessMm: { min: 0.1, max: 20 },
  irradianceMwPerCm2: { min: 1, max: 10_000 },
  baselineMwPerCm2: { min: 1, max: 10_000 },
  tipDiameterMm: { min: 1, max: 20 },
  temperatureC: { min: 5, max: 45 },
  lux: { min: 0, max: 200_000 },
} as const;

export type CaseRange = keyof typeof CASE_RANGES;

const transmittanceSchema = record(
  {
    kind: oneOf(['measured', 'published']),
    share: inRange(CASE_RANGES.share, 'share of the light that passes'),
    atThicknessMm: inRange(CASE_RANGES.atThicknessMm, 'mm'),
    basis: text('how it was measured, or where it is published'),
  },
  'a transmittance { kind, share, atThicknessMm, basis }',
);

const unitSchema = record(
  {
    id: idSchema,
    teeth: v.pipe(
      v.array(toothSchema, 'a list of FDI tooth numbers'),
      v.minLength(1, 'at least one FDI tooth number'),
      v.maxLength(16, 'at most 16 teeth'),
    ),
    pontics: maybe(
      v.pipe(
        v.array(toothSchema, 'a list of FDI tooth numbers'),
        v.maxLength(16, 'at most 16 teeth'),
      ),
    ),
    restoration: text('a kind of restoration'),
    material: text('a generic class of material'),
    thicknessMm: maybe(inRange(CASE_RANGES.thicknessMm, 'mm')),
    opacity: maybe(oneOf(OPACITIES)),
    conditioned: maybe(oneOf(CONDITIONED)),
    shade: maybe(text('a shade')),
    transmittance: maybe(transmittanceSchema),
  },
  'a unit { id, teeth, restoration, material, … }',
);

const toothFactsSchema = record(
  {
    tooth: toothSchema,
    substrate: maybe(
      v.pipe(
        list(oneOf(SUBSTRATES), 'a list of what the tooth shows', SUBSTRATES.length),
        v.minLength(1, 'at least one, or none of the key'),
      ),
    ),
    provisional: maybe(oneOf(PROVISIONALS)),
  },
  'what is known about a tooth { tooth, substrate?, provisional? }',
);

const personSchema = record(
  {
    id: idSchema,
    label: text('initials or a short label'),
    role: oneOf(['dentist', 'assistant']),
    notation: maybe(notationSchema),
  },
  'a person { id, label, role, notation? }',
);

export const lightSchema = record(
  {
    label: text('the label of the light'),
    irradianceMwPerCm2: inRange(CASE_RANGES.irradianceMwPerCm2, 'mW/cm2'),
    tipDiameterMm: inRange(CASE_RANGES.tipDiameterMm, 'mm'),
    baselineMwPerCm2: maybe(inRange(CASE_RANGES.baselineMwPerCm2, 'mW/cm2')),
    readOn: maybe(dateSchema),
    programmesS: maybe(
      v.pipe(
        list(inRange({ min: 1, max: 120 }, 's'), 'a list of times in s', 20),
        v.minLength(1, 'at least one time, or none of the key'),
      ),
    ),
  },
  'a light { label, irradianceMwPerCm2, tipDiameterMm, … }',
);

const paceWords = 'a whole number of ms from 1 to a day';
const paceMsSchema = v.pipe(
  v.number(paceWords),
  v.integer(paceWords),
  v.minValue(1, paceWords),
  v.maxValue(86_400_000, paceWords),
);

const countWords = 'a whole number from 1 to 1000000';
const recordedPaceSchema = record(
  {
    step: idSchema,
    medianMs: paceMsSchema,
    p90Ms: paceMsSchema,
    count: v.pipe(
      v.number(countWords),
      v.integer(countWords),
      v.minValue(1, countWords),
      v.maxValue(1_000_000, countWords),
    ),
  },
  'a recorded pace { step, medianMs, p90Ms, count }',
);

const sizeWords = 'a whole number from 1 to 32';
const sizesSchema = v.pipe(
  list(
    v.pipe(
      v.number(sizeWords),
      v.integer(sizeWords),
      v.minValue(1, sizeWords),
      v.maxValue(32, sizeWords),
    ),
    'a list of how many are taken together',
  ),
  v.minLength(1, 'at least one size'),
  v.maxLength(32, 'at most 32 sizes'),
);

const groupsSchema = record(
  {
    mixes: maybe(sizesSchema),
    rounds: maybe(v.record(idSchema, sizesSchema, 'sizes of rounds by step')),
  },
  'what is taken together { mixes?, rounds? }',
);

/** From the year 2000 to 2100, so that seconds given for milliseconds are noticed. */
const wallMsSchema = v.pipe(
  inRange({ min: 946_684_800_000, max: 4_102_444_800_000 }, 'ms since 1970, UTC'),
  v.integer('a whole number of ms since 1970, UTC'),
);

const whenWords = 'a date and time with its offset such as "2026-11-25T09:00:00+01:00"';

export const caseSchema = record(
  {
    format: v.literal('lutewatch-case', '"lutewatch-case"'),
    formatVersion: v.literal(1, 'the number 1'),
    id: idSchema,
    chartRef: text('a chart reference'),
    title: text('the title of the case'),
    notation: notationSchema,
    protocol: idSchema,
    units: v.pipe(
      v.array(unitSchema, 'a list of units'),
      v.minLength(1, 'at least one unit'),
      v.maxLength(32, 'at most 32 units'),
    ),
    teeth: maybe(list(toothFactsSchema, 'a list of what is known about teeth', 64)),
    choices: maybe(v.record(idSchema, idSchema, 'the option taken, by choice')),
    people: v.pipe(
      v.array(personSchema, 'a list of people'),
      v.minLength(1, 'at least one person'),
      v.maxLength(20, 'at most 20 people'),
    ),
    room: record(
      {
        temperatureC: inRange(CASE_RANGES.temperatureC, 'degrees Celsius'),
        lux: maybe(inRange(CASE_RANGES.lux, 'lux')),
      },
      'a room { temperatureC, lux? }',
    ),
    light: lightSchema,
    scheduledFor: maybe(
      v.pipe(
        v.string(whenWords),
        v.regex(
          /^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])T([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9](\.[0-9]{1,3})?)?(Z|[+-]([01][0-9]|2[0-3]):[0-5][0-9])$/,
          whenWords,
        ),
      ),
    ),
    allergies: maybe(text('allergies in words')),
    anaesthesia: maybe(
      record({ agent: idSchema, technique: idSchema }, 'what is injected { agent, technique }'),
    ),
    note: maybe(text('a note in words')),
    follows: maybe(
      record(
        { caseId: idSchema, lastExposureWallMs: wallMsSchema },
        'the earlier case { caseId, lastExposureWallMs }',
      ),
    ),
    paces: maybe(list(recordedPaceSchema, 'a list of recorded paces')),
    changeOvers: maybe(list(recordedPaceSchema, 'a list of recorded change-overs')),
    groups: maybe(groupsSchema),
    riskMax: maybe(inRange({ min: 0.001, max: 0.5 }, 'a chance')),
  },
  'a case file, an object with "format": "lutewatch-case"',
);
