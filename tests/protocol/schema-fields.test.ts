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
const STEP = ['properties', 'steps', 'items', 'properties'];
const ACTION = [...STEP, 'action', 'oneOf'];
const EVIDENCE = [...ACTION, '0', 'properties', 'evidence', 'oneOf'];
const recordOf: Readonly<Record<Exclude<FormPart, 'instructions'>, readonly string[]>> = {
  protocol: [],
  slots: ['properties', 'slots', 'items'],
  choices: ['properties', 'choices', 'items'],
  options: ['properties', 'choices', 'items', 'properties', 'options', 'items'],
  steps: ['properties', 'steps', 'items'],
  windows: ['properties', 'windows', 'items'],
  waysBack: ['properties', 'waysBack', 'items'],
  cautions: ['properties', 'cautions', 'items'],
  sources: ['properties', 'sources', 'items'],
  stages: ['properties', 'stages', 'items'],
  lists: ['properties', 'lists', 'items'],
  after: ['properties', 'steps', 'items', 'properties', 'after', 'items'],
  voids: ['properties', 'waysBack', 'items', 'properties', 'voids', 'items'],
  barWords: [...STEP, 'words'],
  some: [...STEP, 'some'],
  someWords: [...STEP, 'some', 'properties', 'words'],
  coats: [...ACTION, '2'],
  expose: [...ACTION, '3'],
  tally: [...ACTION, '4'],
  times: [...ACTION, '1', 'properties', 'variants', 'items'],
  answer: [...EVIDENCE, '0', 'properties', 'options', 'items'],
  reading: [...EVIDENCE, '1'],
  material: [...EVIDENCE, '2'],
  note: [...EVIDENCE, '3'],
  readBack: [...EVIDENCE, '4'],
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
    [fieldShape('expose', 'walk'), 'expose', 'walk'],
    [fieldShape('readBack', 'of'), 'readBack', 'of'],
  ] as const)(
    'offers %j, the choices that the published schema has for %s.%s',
    (shape, part, key) => {
      const choices = at(published, ...recordOf[part], 'properties', key, 'enum');
      expect(choices).toHaveLength(shape.kind === 'choice' ? shape.options.length : 0);
      expect(shape).toEqual({ kind: 'choice', isNeeded: true, options: choices });
    },
  );

  it.each([
    [fieldShape('protocol', 'summary'), 'protocol', 'summary'],
    [fieldShape('slots', 'materialClass'), 'slots', 'materialClass'],
    [fieldShape('choices', 'why'), 'choices', 'why'],
    [fieldShape('options', 'label'), 'options', 'label'],
    [fieldShape('cautions', 'words'), 'cautions', 'words'],
    [fieldShape('lists', 'words'), 'lists', 'words'],
    [fieldShape('sources', 'doi'), 'sources', 'doi'],
    [fieldShape('steps', 'why'), 'steps', 'why'],
    [fieldShape('waysBack', 'proposal'), 'waysBack', 'proposal'],
    [fieldShape('barWords', 'leaves'), 'barWords', 'leaves'],
    [fieldShape('some', 'instruction'), 'some', 'instruction'],
    [fieldShape('someWords', 'end'), 'someWords', 'end'],
    [fieldShape('coats', 'until'), 'coats', 'until'],
    [fieldShape('tally', 'label'), 'tally', 'label'],
    [fieldShape('answer', 'label'), 'answer', 'label'],
    [fieldShape('reading', 'unit'), 'reading', 'unit'],
    [fieldShape('note', 'label'), 'note', 'label'],
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
