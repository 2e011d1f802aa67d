// What a form is drawn from is held to the published JSON Schema, which other tools read.
import { describe, expect, it } from 'vitest';
import { type FormPart, fieldShape, withField } from '../../src/protocol/schema-fields.ts';
import { json, sharedText } from './documents.ts';

type Json = Readonly<Record<string, unknown>>;

const isJson = (value: unknown): value is Json => typeof value === 'object' && value !== null;

const published = json(sharedText('protocol.schema.json'));

/** What a reference leads to: `#/$defs/step`. */
function followed(value: unknown): unknown {
  if (!isJson(value) || typeof value['$ref'] !== 'string') return value;
  return at(published, ...value['$ref'].split('/').slice(1));
}

function at(value: unknown, ...way: readonly string[]): unknown {
  return way.reduce<unknown>((inner, key) => (isJson(inner) ? followed(inner[key]) : null), value);
}
const recordOf: Readonly<Record<Exclude<FormPart, 'instructions'>, readonly string[]>> = {
  steps: ['properties', 'steps', 'items'],
  windows: ['properties', 'windows', 'items'],
  waysBack: ['properties', 'waysBack', 'items'],
  cautions: ['properties', 'cautions', 'items'],
  sources: ['properties', 'sources', 'items'],
  stages: ['properties', 'stages', 'items'],
  after: ['properties', 'steps', 'items', 'properties', 'after', 'items'],
  voids: ['properties', 'waysBack', 'items', 'properties', 'voids', 'items'],
};

describe('a field of a form', () => {
  it.each([
    [fieldShape('steps', 'per'), 'steps', 'per'],
    [fieldShape('steps', 'by'), 'steps', 'by'],
    [fieldShape('windows', 'match'), 'windows', 'match'],
    [fieldShape('windows', 'protects'), 'windows', 'protects'],
    [fieldShape('windows', 'severity'), 'windows', 'severity'],
    [fieldShape('waysBack', 'mishap'), 'waysBack', 'mishap'],
    [fieldShape('after', 'link'), 'after', 'link'],
    [fieldShape('voids', 'link'), 'voids', 'link'],
  ] as const)(
    'offers %j, the choices that the published schema has for %s.%s',
    (shape, part, key) => {
      const choices = at(published, ...recordOf[part], 'properties', key, 'enum');
      expect(choices).toHaveLength(shape.kind === 'choice' ? shape.options.length : 0);
      expect(shape).toEqual({ kind: 'choice', isNeeded: true, options: choices });
    },
  );

  it.each([
    [fieldShape('cautions', 'words'), 'cautions', 'words'],
    [fieldShape('sources', 'doi'), 'sources', 'doi'],
    [fieldShape('steps', 'why'), 'steps', 'why'],
    [fieldShape('waysBack', 'proposal'), 'waysBack', 'proposal'],
  ] as const)('has in %j the limit of the published schema for %s.%s', (shape, part, key) => {
    const record = recordOf[part];
    const field = at(published, ...record, 'properties', key);
    const required = at(published, ...record, 'required');
    expect(shape).toEqual({
      kind: 'text',
      lengthMax: at(field, 'maxLength'),
      hasForm: at(field, 'pattern') !== undefined,
      isNeeded: Array.isArray(required) && required.includes(key),
    });
  });

  it('knows moments, ticks, dates and names of other entries', () => {
    expect(fieldShape('waysBack', 'from')).toEqual({ kind: 'moment', isNeeded: false });
    expect(fieldShape('windows', 'to')).toEqual({ kind: 'moment', isNeeded: true });
    expect(fieldShape('windows', 'amber')).toEqual({ kind: 'flag', isNeeded: false });
    expect(fieldShape('instructions', 'reviewDue')).toEqual({ kind: 'date', isNeeded: false });
    expect(fieldShape('steps', 'stage')).toEqual({ kind: 'reference', isNeeded: true });
  });

  it('that is emptied leaves the entry, and nothing else of it', () => {
    const entry: { readonly id: string; readonly why?: string } = { id: 'etch', why: 'So.' };
    expect(withField(entry, 'why', undefined)).toStrictEqual({ id: 'etch' });
    expect(withField(entry, 'why', 'Else.')).toStrictEqual({ id: 'etch', why: 'Else.' });
    expect(entry).toStrictEqual({ id: 'etch', why: 'So.' });
  });
});
