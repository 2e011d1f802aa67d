/**
 * What the schema of a protocol says about one field of an entry, for a form that draws it: the kind
 * of field, whether it is needed, its choices and its limit.
 */
import type * as v from 'valibot';
import { basisSchema, dateSchema, idSchema } from './schema-parts.ts';
import { protocolSchema } from './schema-protocol.ts';
import {
  actionSchema,
  answerSchema,
  barWordsSchema,
  coatsSchema,
  dwellVariantSchema,
  evidenceSchema,
  exposeSchema,
  materialAskedSchema,
  momentSchema,
  noteSchema,
  readBackSchema,
  readingSchema,
  someSchema,
  someWordsSchema,
  stepSchema,
  tallySchema,
} from './schema-step.ts';

type FieldShape = { readonly isNeeded: boolean } & (
  | { readonly kind: 'text'; readonly lengthMax: number; readonly hasForm: boolean }
  | { readonly kind: 'choice'; readonly options: readonly string[] }
  | { readonly kind: 'flag' | 'date' | 'reference' | 'moment' | 'other' }
);

const lists = protocolSchema.entries;
const choiceEntries = lists.choices.wrapped.pipe[0].item.entries;
const wayBackEntries = lists.waysBack.pipe[0].item.entries;

/** The records that a form can draw fields of. */
const RECORDS = {
  /** What a protocol says of itself. */
  protocol: lists,
  slots: lists.slots.pipe[0].item.entries,
  choices: choiceEntries,
  /** What a choice at set-up is between. */
  options: choiceEntries.options.pipe[0].pipe[0].item.entries,
  steps: stepSchema.entries,
  windows: lists.windows.pipe[0].item.entries,
  waysBack: wayBackEntries,
  cautions: lists.cautions.pipe[0].item.entries,
  sources: lists.sources.pipe[0].item.entries,
  stages: lists.stages.pipe[0].item.entries,
  lists: lists.lists.wrapped.pipe[0].item.entries,
  /** What a step waits for. */
  after: stepSchema.entries.after.pipe[0].item.entries,
  /** What the bar says of a step, and what it says of a part of its subjects. */
  barWords: barWordsSchema.entries,
  some: someSchema.entries,
  someWords: someWordsSchema.entries,
  /** Kinds of action, and what a press asks for. */
  coats: coatsSchema.entries,
  expose: exposeSchema.entries,
  tally: tallySchema.entries,
  answer: answerSchema.entries,
  reading: readingSchema.entries,
  material: materialAskedSchema.entries,
  note: noteSchema.entries,
  readBack: readBackSchema.entries,
  times: dwellVariantSchema.entries,
  /** What a way back makes undone. */
  voids: wayBackEntries.voids.pipe[0].item.entries,
  /** The document behind a number. */
  instructions: basisSchema.options[0].entries,
};

export type FormPart = keyof typeof RECORDS;
export type FieldKey<P extends FormPart> = keyof (typeof RECORDS)[P] & string;

export const ACTION_KINDS = actionSchema.options.map(({ entries }) => entries.kind.literal);
export const EVIDENCE_KINDS = evidenceSchema.options.map(({ entries }) => entries.kind.literal);
export const BASIS_KINDS = basisSchema.options.map(({ entries }) => entries.kind.literal);

const isSchema = (value: unknown): value is v.GenericSchema =>
  typeof value === 'object' && value !== null && 'kind' in value && value.kind === 'schema';

/** The schema inside of one that lets a key be left out. */
function inside(schema: v.GenericSchema): v.GenericSchema | null {
  if (schema.type !== 'exact_optional' || !('wrapped' in schema)) return null;
  return isSchema(schema.wrapped) ? schema.wrapped : null;
}

interface Rule {
  readonly type: string;
  readonly requirement: unknown;
}

const isRule = (value: unknown): value is Rule =>
  typeof value === 'object' && value !== null && 'type' in value && 'requirement' in value;

function rulesOf(schema: v.GenericSchema): readonly Rule[] {
  return 'pipe' in schema && Array.isArray(schema.pipe) ? schema.pipe.filter(isRule) : [];
}

function shapeOf(schema: v.GenericSchema, isNeeded: boolean): FieldShape {
  if (schema === dateSchema) return { kind: 'date', isNeeded };
  if (schema === idSchema) return { kind: 'reference', isNeeded };
  if (schema === momentSchema) return { kind: 'moment', isNeeded };
  if (schema.type === 'boolean') return { kind: 'flag', isNeeded };
  if ('options' in schema && schema.type === 'picklist' && Array.isArray(schema.options)) {
    return { kind: 'choice', isNeeded, options: schema.options.map(String) };
  }
  if (schema.type !== 'string') return { kind: 'other', isNeeded };
  const rules = rulesOf(schema);
  const lengthMax = Number(rules.find(({ type }) => type === 'max_length')?.requirement);
  const hasForm = rules.some(({ type }) => type === 'regex');
  return { kind: 'text', isNeeded, lengthMax, hasForm };
}

/** The shape of one field. */
export function fieldShape<P extends FormPart>(part: P, key: FieldKey<P>): FieldShape {
  const entries: Readonly<Record<string, v.GenericSchema>> = RECORDS[part];
  const schema = entries[key];
  if (schema === undefined) return { kind: 'other', isNeeded: false };
  const inner = inside(schema);
  return inner === null ? shapeOf(schema, true) : shapeOf(inner, false);
}

/** The entry with another value in one field; without the field when there is none. */
export function withField<T extends object>(entry: T, key: keyof T & string, value: unknown): T {
  const next = { ...entry, [key]: value };
  if (value === undefined) Reflect.deleteProperty(next, key);
  return next;
}
