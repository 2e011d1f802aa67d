/** Shape of one step of a protocol: what is done, per what, after what, and its one action. */
import * as v from 'valibot';
import {
  countFigureSchema,
  doseFigureSchema,
  durationFigureSchema,
  idSchema,
  list,
  maybe,
  oneOf,
  record,
  text,
  told,
} from './schema-parts.ts';
import { FACTS, SCOPES, SURFACES } from './vocabulary.ts';

const edgeSchema = oneOf(['start', 'end']);
export const scopeSchema = oneOf(SCOPES);
const roleSchema = oneOf(['dentist', 'assistant', 'either']);
const surfaceSchema = oneOf(SURFACES);
const finite = v.pipe(
  v.number('a number'),
  v.minValue(-1e9, 'a number above -1e9'),
  v.maxValue(1e9, 'a number below 1e9'),
);

export const momentSchema = record({ step: idSchema, edge: edgeSchema }, 'a moment { step, edge }');

export const readBackSchema = record(
  {
    kind: v.literal('read-back', '"read-back"'),
    of: oneOf(['teeth', 'protocol', 'materials', 'allergies', 'people', 'loading', 'readiness']),
  },
  'evidence { kind: "read-back", of }',
);

const evidenceShape = 'evidence { kind, … }';
export const answerSchema = record(
  { id: idSchema, label: told('the words of the option') },
  'an option { id, label }',
);
export const readingSchema = record(
  {
    kind: v.literal('reading'),
    label: told('the words of the reading'),
    unit: text('the unit of the reading'),
    min: finite,
    max: finite,
    against: maybe(oneOf(['light-baseline'])),
    equals: maybe(idSchema),
  },
  evidenceShape,
);
export const materialAskedSchema = record(
  { kind: v.literal('material'), slot: idSchema },
  evidenceShape,
);
export const noteSchema = record(
  { kind: v.literal('note'), label: told('the words of the note') },
  evidenceShape,
);

export const evidenceSchema = v.variant(
  'kind',
  [
    record(
      { kind: v.literal('choice'), options: list(answerSchema, 'a list of options', 20) },
      evidenceShape,
    ),
    readingSchema,
    materialAskedSchema,
    noteSchema,
    readBackSchema,
  ],
  'evidence of kind "choice", "reading", "material", "note" or "read-back"',
);

const actionWords = 'an action { kind, … }';
const chooseSchema = record(
  {
    kind: v.literal('choose'),
    options: list(
      record(
        {
          id: idSchema,
          label: told('the words of the option'),
          redo: maybe(list(idSchema, 'a list of step ids', 100)),
        },
        'an option { id, label, redo? }',
      ),
      'a list of options',
      20,
    ),
    evidence: maybe(readBackSchema),
  },
  actionWords,
);

const words = list(idSchema, 'a list of values', 20);
const simpleWhere = [
  record({ fact: oneOf(FACTS), is: words }, 'a condition { fact, is }'),
  record({ fact: oneOf(FACTS), isNot: words }, 'a condition { fact, isNot }'),
  record({ overMm: v.pipe(finite, v.minValue(0, 'mm, 0 or more')) }, 'a condition { overMm }'),
  record({ choice: idSchema, is: words }, 'a condition { choice, is }'),
] as const;
const whereWords =
  'a condition { fact, is }, { fact, isNot }, { overMm }, { choice, is } or { anyOf }';

/** A list of conditions of which all must hold; one level of "any of" is enough for a protocol. */
export const whereSchema = list(
  v.union(
    [
      ...simpleWhere,
      record(
        { anyOf: list(v.union(simpleWhere, whereWords), 'a list of conditions', 20) },
        whereWords,
      ),
    ],
    whereWords,
  ),
  'a list of conditions',
  20,
);

const dwellTimesSchema = record(
  {
    minMs: maybe(durationFigureSchema),
    targetMs: durationFigureSchema,
    maxMs: maybe(durationFigureSchema),
    rangeClass: maybe(idSchema),
  },
  'times { minMs?, targetMs, maxMs?, rangeClass? }',
);

export const dwellVariantSchema = record(
  { where: whereSchema, ...dwellTimesSchema.entries },
  'times { where, minMs?, targetMs, maxMs?, rangeClass? }',
);

export const coatsSchema = record(
  {
    kind: v.literal('coats'),
    count: countFigureSchema,
    gapMsMin: maybe(durationFigureSchema),
    until: maybe(told('what the coats are applied until, in words')),
  },
  actionWords,
);
export const exposeSchema = record(
  {
    kind: v.literal('expose'),
    surfaces: list(surfaceSchema, 'a list of surfaces', 6),
    perSurfaceMs: maybe(durationFigureSchema),
    doseJPerCm2: maybe(doseFigureSchema),
    restMs: maybe(durationFigureSchema),
    walk: oneOf(['by-surface', 'by-unit']),
  },
  actionWords,
);
export const tallySchema = record(
  {
    kind: v.literal('tally'),
    passesMax: countFigureSchema,
    label: told('what is counted, in words'),
  },
  actionWords,
);

export const actionSchema = v.variant(
  'kind',
  [
    record({ kind: v.literal('confirm'), evidence: maybe(evidenceSchema) }, actionWords),
    record(
      {
        kind: v.literal('dwell'),
        minMs: maybe(durationFigureSchema),
        targetMs: durationFigureSchema,
        maxMs: maybe(durationFigureSchema),
        byMaterial: maybe(
          v.record(idSchema, dwellTimesSchema, 'times by generic class of material'),
        ),
        variants: maybe(list(dwellVariantSchema, 'a list of times with their conditions', 40)),
      },
      actionWords,
    ),
    coatsSchema,
    exposeSchema,
    tallySchema,
    chooseSchema,
  ],
  'an action of kind "confirm", "dwell", "coats", "expose", "tally" or "choose"',
);

const afterSchema = record(
  {
    step: idSchema,
    link: oneOf(['same', 'linked', 'all', 'previous', 'earlier']),
    edge: maybe(edgeSchema),
    where: maybe(whereSchema),
  },
  '{ step, link, edge?, where? }',
);

const onlyIfWords = 'either { step, option } or { wayBack, voided? }';
const onlyIfSchema = v.union(
  [
    record({ step: idSchema, option: idSchema }, onlyIfWords),
    record({ wayBack: idSchema, voided: maybe(idSchema) }, onlyIfWords),
  ],
  onlyIfWords,
);

const flag = v.boolean('true or false');

export const someWordsSchema = record(
  {
    start: maybe(told('the words of the first press')),
    end: maybe(told('the words of the last press')),
  },
  'words { start?, end? }',
);

export const someSchema = record(
  { instruction: maybe(told('the instruction in words')), words: maybe(someWordsSchema) },
  'texts for a part of the subjects { instruction?, words? }',
);

export const barWordsSchema = record(
  {
    start: maybe(told('the words of the first press')),
    end: maybe(told('the words of the last press')),
    leaves: maybe(told('where it leaves the tooth or unit')),
  },
  'words { start?, end?, leaves? }',
);

const sweepTimeSchema = record(
  { shortestMs: durationFigureSchema, longestMs: durationFigureSchema },
  'the time of one subject { shortestMs, longestMs }',
);

const pressingWords = 'a way to press { kind, … }';
const pressingSchema = v.variant(
  'kind',
  [
    record({ kind: v.literal('list'), list: idSchema }, pressingWords),
    record(
      { kind: v.literal('sweep'), start: maybe(sweepTimeSchema), end: maybe(sweepTimeSchema) },
      pressingWords,
    ),
    record(
      { kind: v.literal('implied'), by: list(idSchema, 'a list of step ids', 20) },
      pressingWords,
    ),
    record(
      {
        kind: v.literal('paced'),
        changeMs: durationFigureSchema,
        confirmedBy: maybe(idSchema),
      },
      pressingWords,
    ),
  ],
  'a way to press of kind "list", "sweep", "implied" or "paced"',
);

export const stepSchema = record(
  {
    id: idSchema,
    stage: idSchema,
    title: told('the title of the step'),
    instruction: maybe(told('the instruction in words')),
    why: maybe(told('the reason in words')),
    cautions: maybe(list(idSchema, 'a list of caution ids', 20)),
    per: scopeSchema,
    together: maybe(flag),
    some: maybe(someSchema),
    roundOf: maybe(idSchema),
    beginsWith: maybe(idSchema),
    after: list(afterSchema, 'a list of { step, link, edge? }', 40),
    onlyIf: maybe(list(onlyIfSchema, 'a list of conditions', 20)),
    where: maybe(whereSchema),
    by: roleSchema,
    usesLight: maybe(flag),
    uses: maybe(list(idSchema, 'a list of material slot ids', 20)),
    action: actionSchema,
    pace: record(
      {
        medianMs: durationFigureSchema,
        p90Ms: durationFigureSchema,
        perSubjectMs: maybe(durationFigureSchema),
      },
      'a pace { medianMs, p90Ms, perSubjectMs? }',
    ),
    pressed: maybe(pressingSchema),
    hands: maybe(
      record(
        { applyMs: durationFigureSchema, rinseMs: durationFigureSchema },
        'the rhythm of the hands { applyMs, rinseMs }',
      ),
    ),
    words: maybe(barWordsSchema),
    rangeClass: maybe(idSchema),
    optional: maybe(flag),
    mayHurt: maybe(flag),
    field: maybe(oneOf(['closes', 'opens'])),
    earlier: maybe(oneOf(['last-exposure'])),
  },
  'a step { id, stage, title, per, after, by, action, pace, … }',
);
