/** What the parser and the checks would say about a form, field by field, before it is applied. */
import { checkProtocol } from '../../../protocol/check-protocol.ts';
import { replayEdits } from '../../../protocol/edit.ts';
import { type Edit, entriesIn, type Part } from '../../../protocol/edit-types.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { draftProblemWords } from '../../../words/draft-problem-words.ts';
import { findingWords } from '../../../words/finding-words.ts';
import { fieldProblemWords } from '../../../words/form-words.ts';

export interface FormProblems {
  /** What is said about a field, or about anything inside it. */
  at(key: string): string | undefined;
  /** What no field of the form shows. */
  readonly other: string | undefined;
  /** Whether the edits are refused: the document would not parse, or a title could not be read. */
  readonly blocks: boolean;
}

export const NO_PROBLEMS: FormProblems = { at: () => undefined, other: undefined, blocks: false };

interface Said {
  readonly key: string;
  readonly words: string;
}

/** What a form is over: an entry of a list, a choice at set-up, or the protocol itself. */
export type FormOwner = Part | 'choices' | 'protocol';

const OWN = /^protocol\.((?:title|summary|restorations|materials)(?:[.[].*)?)$/;
const INSIDE = /^protocol\.([A-Za-z]+)\[(\d+)\]\.?(.*)$/;

/** Whose field a place is, and which one. */
function ownerOf(place: string): {
  readonly part: string;
  readonly index: number;
  readonly key: string;
} {
  const [, own] = OWN.exec(place) ?? [];
  if (own !== undefined) return { part: 'protocol', index: 0, key: own };
  const [, part = '', index = '', key = ''] = INSIDE.exec(place) ?? [];
  return { part, index: Number(index), key };
}

function isAbout(protocol: Protocol, o: { part: FormOwner; id: string; index: number }): boolean {
  if (o.part === 'protocol') return true;
  if (o.part !== 'choices') return entriesIn(protocol, o.part)[o.index]?.id === o.id;
  const { choices = [] } = protocol;
  const at = choices.findIndex(({ id }) => id === o.id);
  // A new choice gets its id from its title, and stands last.
  return o.index === (at < 0 ? choices.length - 1 : at);
}

function saidBy(o: {
  readonly protocol: Protocol;
  readonly edits: readonly Edit[];
  readonly part: FormOwner;
  readonly id: string;
}): { readonly said: readonly Said[]; readonly blocks: boolean } {
  const next = replayEdits(o.protocol, o.edits);
  if (!next.ok) {
    const said = next.error.map((problem) => {
      const { part, key } = ownerOf(problem.place);
      const isHere = part === o.part;
      const own = isHere ? fieldProblemWords(o.part, key, problem) : null;
      return { key: isHere ? key : '', words: own ?? draftProblemWords(problem, o) };
    });
    return { said, blocks: true };
  }
  const after = next.value;
  const added = o.edits.find((edit) => edit.do === 'add' && edit.part === o.part);
  const id = added?.do === 'add' ? added.item.id : o.id;
  const mine = checkProtocol(after).flatMap((finding) => {
    const { part, index, key } = ownerOf(finding.place);
    const isMine = part === o.part && isAbout(after, { part: o.part, id, index });
    return isMine ? [{ key, code: finding.code, words: findingWords(finding) }] : [];
  });
  // A title that nobody can read from two metres is refused; all else may pass through a draft.
  return { said: mine, blocks: mine.some(({ code }) => code === 'title-too-long') };
}

/** `fields` are the keys that the form shows something beside. */
export function formProblems(o: {
  readonly protocol: Protocol;
  readonly edits: readonly Edit[];
  readonly part: FormOwner;
  readonly id: string;
  readonly fields: readonly string[];
}): FormProblems {
  const { said, blocks } = saidBy(o);
  const isUnder = (key: string, field: string): boolean =>
    key === field || key.startsWith(`${field}.`) || key.startsWith(`${field}[`);
  return {
    at: (field) => said.find(({ key }) => isUnder(key, field))?.words,
    other: said.find(({ key }) => !o.fields.some((field) => isUnder(key, field)))?.words,
    blocks,
  };
}
