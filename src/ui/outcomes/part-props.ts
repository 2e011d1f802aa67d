/** What every part of the page of outcomes is given. */
import type { OutcomesInput, OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import { outcomeWords } from '../../words/outcome-words.ts';
import type { ReadFollowUps } from '../shared/use-follow-ups.ts';

export interface PartProps {
  readonly model: OutcomesModel;
  readonly input: OutcomesInput;
  readonly read: ReadFollowUps;
  /** Of the example nothing is noted, and no case leads anywhere. */
  readonly isExample: boolean;
}

/** Titles of an example say that it is invented. */
export const titled = (title: string, isExample: boolean): string =>
  isExample ? outcomeWords.inventedTitle(title) : title;
