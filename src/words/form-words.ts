/** Words of the fields of the editor's forms, by part and key of the schema. */
import { present } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import type { Part } from '../protocol/edit-types.ts';
import { type FieldKey, type FormPart, fieldShape } from '../protocol/schema-fields.ts';
import { editorWords } from './editor-words.ts';
import { type FieldTexts, form } from './en/form.ts';
import { spoken } from './language.ts';
import { leadWords } from './lead-words.ts';
import { protocolWords } from './protocol-words.ts';

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

function isWorded<P extends FormPart>(part: P, key: string): key is WordedKey<P> {
  return Object.hasOwn(form.fields[part], key);
}

/** What is wrong in a field, by what the schema asks of it; the place and the fault where nothing better is known. */
export function fieldProblemWords(part: Part, key: string, problem: Problem): string {
  if (part === 'slots' || !isWorded(part, key)) return leadWords.problems.other(problem);
  const { needs } = fieldTexts(part, key);
  const shape = fieldShape(part, key);
  const isEmpty = problem.code === 'missing' || problem.came === '""';
  if (shape.kind === 'text' && !shape.hasForm && !isEmpty)
    return formTexts.tooLong(shape.lengthMax);
  return needs ?? leadWords.problems.other(problem);
}
