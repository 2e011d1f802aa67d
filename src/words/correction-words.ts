/** Words of what a new template corrects in a revision that the clinic confirmed. */
import { PARTS } from '../protocol/edit-types.ts';
import { changeWords, fieldWords } from './change-words.ts';
import { correction } from './en/correction.ts';
import { spoken } from './language.ts';

export const correctionWords = spoken('correction', correction);

interface Placed {
  /** As `changeId` names a change: "steps/etch/action.maxMs", "steps/etch/added". */
  readonly place: string;
  /** Of the entry; of the protocol where the place is a field of its head. */
  readonly title: string;
}

/** "Etch: limit", "Step Seal added"; the place itself where it names none. */
export function placeWords({ place, title }: Placed): string {
  const [of = '', , key = ''] = place.split('/');
  if (of === 'protocol') return changeWords.field({ owner: title, field: fieldWords(of, key) });
  const part = PARTS.find((name) => name === of);
  if (part === undefined) return place;
  const entry = changeWords.entry[part](title);
  if (key === 'added') return changeWords.added(entry);
  if (key === 'removed') return changeWords.removed(entry);
  if (key === 'moved') return correctionWords.moved(entry);
  const owner = part === 'steps' || part === 'windows' ? title : entry;
  return changeWords.field({ owner, field: fieldWords(part, key) });
}

const NAMED_MAX = 2;

/** "Etch: limit, Rinse: target and 3 more". */
export function namedWords(corrections: readonly Placed[]): string {
  const named = corrections.slice(0, NAMED_MAX).map(placeWords);
  const more = corrections.length - named.length;
  return correctionWords.named(more > 0 ? [...named, correctionWords.more(more)] : named);
}
