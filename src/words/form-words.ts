/** Words of the fields of the editor's forms, by part and key of the schema. */
import { present } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import { type FieldKey, type FormPart, fieldShape } from '../protocol/schema-fields.ts';
import { editorWords } from './editor-words.ts';
import { type FieldTexts, form } from './en/form.ts';
import { spoken } from './language.ts';
import { protocolWords } from './protocol-words.ts';
import { stepFormWords } from './step-form-words.ts';

const formTexts = spoken('form', form);

/** The fields of a part that have words and can be drawn. */
export type WordedKey<P extends FormPart> = keyof (typeof form.fields)[P] & FieldKey<P>;

export function fieldTexts<P extends FormPart>(part: P, key: WordedKey<P>): FieldTexts {
  const texts: Readonly<Record<string, FieldTexts>> = formTexts.fields[part];
  return present(texts[key], key);
}

type Words = Readonly<Record<string, string>>;

const CHOICES: Readonly<Record<string, () => Words>> = {
  'steps.per': () => protocolWords.scopes,
  'steps.by': () => protocolWords.roles,
  'steps.field': () => stepFormWords.field,
  'steps.earlier': () => stepFormWords.earlier,
  'expose.walk': () => stepFormWords.walk,
  'reading.against': () => stepFormWords.against,
  'readBack.of': () => stepFormWords.readBack,
  'waysBack.per': () => protocolWords.scopes,
  'waysBack.mishap': () => protocolWords.mishaps,
  'windows.match': () => editorWords.linkWords,
  'windows.protects': () => protocolWords.protects,
  'windows.severity': () => protocolWords.severities,
  'after.link': () => editorWords.linkWords,
  'voids.link': () => editorWords.linkWords,
};

/** The words of one choice of a field; the code itself when it has none. */
export function choiceWords(part: FormPart, key: string, code: string): string {
  return CHOICES[`${part}.${key}`]?.()[code] ?? code;
}

/** Fields that stand deeper in an entry, by the record that their words and limits are told of. */
const DEEPER: readonly (readonly [RegExp, FormPart])[] = [
  [/^options\[\d+\]\.(label|note)$/, 'options'],
  [/^words\.(start|end|leaves)$/, 'barWords'],
  [/^some\.words\.(start|end)$/, 'someWords'],
  [/^some\.(instruction)$/, 'some'],
  [/^action\.(until)$/, 'coats'],
  [/^action\.(label)$/, 'tally'],
  [/^action\.(?:evidence\.)?options\[\d+\]\.(label)$/, 'answer'],
  [/^action\.evidence\.(label|unit|min|max)$/, 'reading'],
  [/^action\.evidence\.(slot)$/, 'material'],
];

function placedField(
  part: FormPart,
  key: string,
): { readonly part: FormPart; readonly key: string } {
  for (const [place, record] of part === 'steps' || part === 'choices' ? DEEPER : []) {
    const [, inner] = place.exec(key) ?? [];
    if (inner !== undefined) return { part: record, key: inner };
  }
  return { part, key };
}

function isWorded<P extends FormPart>(part: P, key: string): key is WordedKey<P> {
  return Object.hasOwn(form.fields[part], key);
}

/** What a field is called; null where no form draws it. */
export function fieldLabel(part: FormPart | null, key: string): string | null {
  if (part === null) return null;
  const field = placedField(part, key);
  const [outer = ''] = key.split('.');
  if (isWorded(field.part, field.key)) return fieldTexts(field.part, field.key).label;
  return isWorded(part, outer) ? fieldTexts(part, outer).label : null;
}

export const tooLongWords = (lengthMax: number): string => formTexts.tooLong(lengthMax);

/** What is wrong in a field, by what the schema asks of it; null where nothing better is known. */
export function fieldProblemWords(part: FormPart, key: string, problem: Problem): string | null {
  const field = placedField(part, key);
  if (!isWorded(field.part, field.key)) return null;
  const { needs } = fieldTexts(field.part, field.key);
  const shape = fieldShape(field.part, field.key);
  const isEmpty = problem.code === 'missing' || problem.came === '""';
  if (shape.kind === 'text' && !shape.hasForm && !isEmpty)
    return formTexts.tooLong(shape.lengthMax);
  return needs ?? null;
}

/** What is wrong with a text before there is a document that it stands in; undefined for nothing. */
export function formTextProblem<P extends FormPart>(
  part: P,
  key: WordedKey<P>,
  text: string,
): string | undefined {
  const shape = fieldShape(part, key);
  if (shape.kind !== 'text') return undefined;
  if (text === '') return shape.isNeeded ? fieldTexts(part, key).needs : undefined;
  return text.length > shape.lengthMax ? formTexts.tooLong(shape.lengthMax) : undefined;
}
