/** Shape of a protocol document, format version 1. The published JSON Schema is made from it. */
import * as v from 'valibot';
import { languageSchema } from './language-tag.ts';
import {
  basisSchema,
  durationFigureSchema,
  idSchema,
  list,
  maybe,
  mishapSchema,
  oneOf,
  ratioFigureSchema,
  record,
  text,
  told,
} from './schema-parts.ts';
import { momentSchema, scopeSchema, stepSchema, whereSchema } from './schema-step.ts';

const sourceSchema = record(
  {
    id: idSchema,
    citation: text('author, journal or standard, volume, pages, year'),
    doi: maybe(
      v.pipe(
        v.string('a DOI such as "10.3390/dj10040055"'),
        v.maxLength(200, 'a DOI of at most 200 characters'),
        v.regex(/^10\.[0-9]{4,9}\/[!-~]+$/, 'a DOI such as "10.3390/dj10040055"'),
      ),
    ),
  },
  'a source { id, citation, doi? }',
);

const windowSchema = record(
  {
    id: idSchema,
    title: told('the title of the window'),
    from: momentSchema,
    to: momentSchema,
    match: oneOf(['same', 'linked', 'last']),
    minMs: maybe(durationFigureSchema),
    targetMs: maybe(durationFigureSchema),
    maxMs: maybe(durationFigureSchema),
    q10: maybe(ratioFigureSchema),
    protects: oneOf(['shield', 'working', 'wet', 'hold', 'warm', 'other']),
    severity: oneOf(['note', 'warning', 'serious']),
    wayBack: maybe(idSchema),
    amber: maybe(v.boolean('true or false')),
    why: maybe(told('the reason in words')),
  },
  'a window { id, title, from, to, match, protects, severity, … }',
);

const wayBackSchema = record(
  {
    id: idSchema,
    title: told('the title of the way back'),
    mishap: mishapSchema,
    per: scopeSchema,
    from: maybe(momentSchema),
    until: maybe(momentSchema),
    where: maybe(whereSchema),
    voids: list(
      record(
        {
          step: idSchema,
          link: oneOf(['same', 'linked', 'all']),
          onlyAfter: maybe(idSchema),
        },
        '{ step, link, onlyAfter? }',
      ),
      'a list of { step, link, onlyAfter? }',
      100,
    ),
    proposal: told('what the app proposes, in words'),
    cautions: maybe(list(idSchema, 'a list of caution ids', 20)),
    basis: basisSchema,
  },
  'a way back { id, title, mishap, per, voids, proposal, basis, … }',
);

const slotSchema = record(
  {
    id: idSchema,
    materialClass: text('a generic class of material'),
    label: told('the label of the slot'),
    refrigerated: v.boolean('true or false'),
    optional: maybe(v.boolean('true or false')),
    standsFor: maybe(list(text('the label of a slot'), 'a list of slot labels', 20)),
  },
  'a material slot { id, materialClass, label, refrigerated, optional?, standsFor? }',
);

const choiceSchema = record(
  {
    id: idSchema,
    title: told('the title of the choice'),
    why: maybe(told('the reason in words')),
    options: v.pipe(
      list(
        record(
          { id: idSchema, label: told('the words of the option'), note: maybe(told('a note')) },
          'an option { id, label, note? }',
        ),
        'a list of options',
        20,
      ),
      v.minLength(2, 'at least two options'),
    ),
    default: idSchema,
  },
  'a choice { id, title, why?, options, default }',
);

export const protocolSchema = record(
  {
    format: v.literal('lutewatch-protocol', '"lutewatch-protocol"'),
    formatVersion: v.literal(1, 'the number 1'),
    id: idSchema,
    revision: v.pipe(
      v.number('a whole number above 0'),
      v.integer('a whole number above 0'),
      v.minValue(1, 'a whole number above 0'),
      v.maxValue(1_000_000, 'at most 1000000'),
    ),
    language: maybe(languageSchema),
    title: told('the title of the protocol'),
    summary: told('the summary in words'),
    restorations: list(text('a kind of restoration'), 'a list of kinds of restoration', 40),
    materials: maybe(list(text('a generic class of material'), 'a list of material classes', 40)),
    sources: list(sourceSchema, 'a list of sources', 200),
    cautions: list(
      record(
        {
          id: idSchema,
          words: told('the caution in words'),
          short: maybe(told('the caution in a few words')),
        },
        'a caution { id, words, short? }',
      ),
      'a list of cautions',
      100,
    ),
    slots: list(slotSchema, 'a list of material slots', 100),
    choices: maybe(list(choiceSchema, 'a list of choices', 20)),
    stages: list(
      record({ id: idSchema, title: told('the title of the stage') }, 'a stage { id, title }'),
      'a list of stages',
      60,
    ),
    lists: maybe(
      list(
        record(
          {
            id: idSchema,
            title: told('the title of the list'),
            words: told('what the bar says of the list'),
          },
          'a list { id, title, words }',
        ),
        'a list of lists',
        40,
      ),
    ),
    steps: list(stepSchema, 'a list of steps'),
    windows: list(windowSchema, 'a list of windows', 200),
    waysBack: list(wayBackSchema, 'a list of ways back', 200),
  },
  'a protocol document, an object with "format": "lutewatch-protocol"',
);
