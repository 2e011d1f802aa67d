/** What the parser and the checks would say about a form, field by field, before it is applied. */
import { checkProtocol } from '../../../protocol/check-protocol.ts';
import { replayEdits } from '../../../protocol/edit.ts';
import { type Edit, type Part, spotOfPlace } from '../../../protocol/edit-types.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { findingWords } from '../../../words/finding-words.ts';
import { fieldProblemWords } from '../../../words/form-words.ts';
import { leadProblemWords } from '../../../words/lead-words.ts';

export interface FormProblems {
  /** What is said about a field, or about anything inside it. */
  at(key: string): string | undefined;
  /** What no field of the form shows. */
  readonly other: string | undefined;
  /** Whether the document would not parse: the edits would be refused. */
  readonly blocks: boolean;
}

export const NO_PROBLEMS: FormProblems = { at: () => undefined, other: undefined, blocks: false };

interface Said {
  readonly key: string;
  readonly words: string;
}

const INSIDE = /^protocol\.([A-Za-z]+)\[\d+\]\.?(.*)$/;

function saidBy(o: {
  readonly protocol: Protocol;
  readonly edits: readonly Edit[];
  readonly part: Part;
  readonly id: string;
}): { readonly said: readonly Said[]; readonly blocks: boolean } {
  const next = replayEdits(o.protocol, o.edits);
  if (!next.ok) {
    const said = next.error.map((problem) => {
      const [, part, key = ''] = INSIDE.exec(problem.place) ?? [];
      return part === o.part
        ? { key, words: fieldProblemWords(o.part, key, problem) }
        : { key: '', words: leadProblemWords(problem) };
    });
    return { said, blocks: true };
  }
  const after = next.value;
  const added = o.edits.find((edit) => edit.do === 'add' && edit.part === o.part);
  const id = added?.do === 'add' ? added.item.id : o.id;
  const said = checkProtocol(after).flatMap((finding): Said[] => {
    const [, , key = ''] = INSIDE.exec(finding.place) ?? [];
    const spot = spotOfPlace(after, finding.place);
    const isMine = spot?.part === o.part && spot.id === id;
    return isMine ? [{ key, words: findingWords(finding) }] : [];
  });
  return { said, blocks: false };
}

/** `fields` are the keys that the form shows something beside. */
export function formProblems(o: {
  readonly protocol: Protocol;
  readonly edits: readonly Edit[];
  readonly part: Part;
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
