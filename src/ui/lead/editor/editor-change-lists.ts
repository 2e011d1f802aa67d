/** The names of what a field of a document refers to, and several texts as one, for a difference. */
import type { Step } from '../../../protocol/types.ts';
import { changeWords } from '../../../words/change-words.ts';
import { nameOfStep } from './editor-step-names.ts';

interface Titled {
  readonly id: string;
}

export type Names = (id: string) => string;

export const namesOf =
  <T extends Titled>(list: readonly T[], name: (item: T) => string): Names =>
  (id) => {
    const found = list.find((item) => item.id === id);
    return found === undefined ? id : name(found);
  };

/** Two steps of one title are told apart. */
export const stepNames =
  ({ steps }: { readonly steps: readonly Step[] }): Names =>
  (id) =>
    nameOfStep(steps, id);

export const listed = (
  texts: readonly string[] | undefined,
  list: (texts: readonly string[]) => string = changeWords.list,
): string => (texts === undefined || texts.length === 0 ? changeWords.none : list(texts));
