/** Why an edit of a draft was not taken, with the step and the field as people call them. */
import type { Problem } from '../base/problem.ts';
import { type Edit, entriesIn, PARTS, titleOf } from '../protocol/edit-types.ts';
import type { FormPart } from '../protocol/schema-fields.ts';
import type { Protocol } from '../protocol/types.ts';
import { editorWords } from './editor-words.ts';
import { figureLabel, isFigureKey, numberNeeds } from './figure-words.ts';
import { fieldLabel, tooLongWords } from './form-words.ts';
import { leadProblemWords } from './lead-words.ts';

interface Tried {
  /** The document before the edits. */
  readonly protocol: Protocol;
  readonly edits: readonly Edit[];
}

const PLACE = /^protocol(?:\.([A-Za-z]+)\[(\d+)\])?\.?(.*)$/;
const LENGTH = /at most (\d+) characters/;

/** Brackets as dots, without what only the file has: `action.variants[0].targetMs.value`. */
const keyIn = (rest: string): string =>
  rest.replaceAll(/\[(\d+)\]/g, '.$1').replace(/\.(value|basis.*)$/, '');

/** The title of the entry at a place; of one that is being added, its own. */
function titleAt(part: string | undefined, index: number, { protocol, edits }: Tried): string {
  const name = PARTS.find((known) => known === part);
  if (name === undefined) return protocol.title;
  const items = entriesIn(protocol, name);
  const added = edits.flatMap((edit) =>
    edit.do === 'add' && edit.part === name ? [edit.item] : [],
  );
  const item = items[index] ?? added[index - items.length] ?? added[0];
  return item === undefined ? protocol.title : titleOf(item);
}

function needOf(key: string, { code, expected }: Problem): string {
  if (isFigureKey(key)) return numberNeeds(key);
  const length = LENGTH.exec(expected)?.[1];
  if (length !== undefined) return tooLongWords(Number(length));
  const { missing, other } = editorWords.refusal;
  return code === 'missing' ? missing : other;
}

/** One sentence; never a place in a file. */
export function draftProblemWords(found: Problem, tried: Tried): string {
  const { refusal } = editorWords;
  switch (found.code) {
    case 'fixed-field':
      return refusal.fixed;
    case 'no-such-entry':
      return refusal.gone;
    case 'id-taken':
      return refusal.taken;
    case 'bad-value':
    case 'missing':
    case 'unknown-key':
      break;
    default:
      return leadProblemWords(found);
  }
  const [, part, index, rest = ''] = PLACE.exec(found.place) ?? [];
  const key = keyIn(rest);
  const title = titleAt(part, Number(index), tried);
  const need = needOf(key, found);
  const label = isFigureKey(key)
    ? figureLabel(key)
    : fieldLabel(formPart(part), rest.replace(/\.value$/, ''));
  return label === null ? refusal.ofEntry({ title, need }) : refusal.of({ title, label, need });
}

const FORM_PARTS: readonly FormPart[] = [
  'steps',
  'windows',
  'waysBack',
  'cautions',
  'sources',
  'stages',
  'lists',
];

const formPart = (part: string | undefined): FormPart | null =>
  FORM_PARTS.find((known) => known === part) ?? null;
