import { penRecord } from './en/pen-record.ts';
import { spoken } from './language.ts';

export const penRecordWords = spoken('penRecord', penRecord);

/** The name of a tablet, else the beginning of its id. */
export function tabletWords(o: {
  readonly tablet: string | null;
  readonly name: string | null;
}): string {
  if (o.name !== null && o.name !== '') return o.name;
  return o.tablet === null ? penRecordWords.unknown : penRecordWords.unnamed(o.tablet.slice(0, 8));
}
