/**
 * The texts of a protocol that people read in their own language, found by its schema: what is made
 * of `told` there. Nothing names them one by one, so that a new text of the format is never left out.
 */
import type * as v from 'valibot';
import { assert } from '../base/assert.ts';
import { isTold } from './schema-parts.ts';
import { protocolSchema } from './schema-protocol.ts';
import type { Protocol } from './types.ts';

type Change = (text: string) => string;

const isSchema = (value: unknown): value is v.GenericSchema =>
  typeof value === 'object' && value !== null && 'kind' in value && value.kind === 'schema';

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function entriesOf(schema: v.GenericSchema): Readonly<Record<string, unknown>> {
  return 'entries' in schema && isObject(schema.entries) ? schema.entries : {};
}

/** The option that a value belongs to: the one whose literals it holds and whose keys it has. */
function optionOf(options: readonly unknown[], value: unknown): v.GenericSchema | null {
  const fits = (option: unknown): option is v.GenericSchema =>
    isSchema(option) &&
    isObject(value) &&
    Object.keys(value).every((key) => {
      const entry = entriesOf(option)[key];
      return isSchema(entry) && (!('literal' in entry) || entry.literal === value[key]);
    });
  return options.find(fits) ?? null;
}

function changedEntries(schema: v.GenericSchema, value: object, change: Change): unknown {
  const entries = entriesOf(schema);
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [key, changed(entries[key], inner, change)]),
  );
}

/** A copy of `value`, which `schema` accepted, with every told text changed. */
function changed(schema: unknown, value: unknown, change: Change): unknown {
  if (!isSchema(schema)) return value;
  if ('wrapped' in schema) return changed(schema.wrapped, value, change);
  if (typeof value === 'string') return isTold(schema) ? change(value) : value;
  if ('options' in schema && Array.isArray(schema.options)) {
    return changed(optionOf(schema.options, value), value, change);
  }
  if (Array.isArray(value)) {
    const item = 'item' in schema ? schema.item : undefined;
    return value.map((each) => changed(item, each, change));
  }
  if (!isObject(value)) return value;
  if (!('value' in schema)) return changedEntries(schema, value, change);
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [key, changed(schema.value, inner, change)]),
  );
}

/** The protocol with every text that people read put through `change`. */
export function withTexts(protocol: Protocol, change: Change): Protocol {
  const copy = changed(protocolSchema, protocol, change);
  assert(isProtocolOf(copy, protocol), 'only texts are changed');
  return copy;
}

/** Texts stay texts and nothing else is touched, so what has the same keys is a protocol. */
const isProtocolOf = (copy: unknown, protocol: Protocol): copy is Protocol =>
  isObject(copy) && Object.keys(protocol).every((key) => key in copy);

/** Every text that people read, each once, in the order of the document. */
export function toldTexts(protocol: Protocol): readonly string[] {
  const texts = new Set<string>();
  withTexts(protocol, (text) => {
    texts.add(text);
    return text;
  });
  return [...texts];
}
