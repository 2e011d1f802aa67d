/** Words of the record. */
import { formatWords } from './duration.ts';
import { record } from './en/record.ts';
import { spoken } from './language.ts';

export const recordWords = spoken('record', record);

/** The tip, when the light was read, and how it stands against its own baseline. */
export function lightNoteWords(o: {
  readonly tip: string;
  readonly readOn: string | null;
  readonly driftPercent: number | null;
}): string {
  const { tip, readOn, driftPercent } = o;
  const read = readOn === null ? recordWords.tip(tip) : recordWords.tipRead({ tip, on: readOn });
  if (driftPercent === null) return read;
  if (driftPercent === 0) return recordWords.atBaseline(read);
  const drift = { tip: read, percent: Math.abs(driftPercent) };
  return driftPercent < 0 ? recordWords.belowBaseline(drift) : recordWords.aboveBaseline(drift);
}

export function protocolNote(o: {
  readonly revision: number;
  readonly hash: string;
  readonly confirmed: { readonly by: string; readonly on: string } | null;
}): string {
  const { confirmed, ...revision } = o;
  if (confirmed === null) return recordWords.unconfirmed(revision);
  return recordWords.confirmed({ ...revision, ...confirmed });
}

export function movedWords(o: {
  readonly press: number;
  readonly what: string;
  readonly byMs: number;
}): string {
  const { byMs, ...press } = o;
  const moved = { ...press, by: formatWords(Math.abs(byMs)) };
  return byMs < 0 ? recordWords.movedEarlier(moved) : recordWords.movedLater(moved);
}

/** A shade that was tried: on one unit, or for the set where there is no subject. */
export function shadeLine(o: {
  readonly subject: string;
  readonly paste: string;
  readonly result: string;
  readonly judgedBy: string;
}): string {
  return o.subject === '' ? recordWords.shadeOfSet(o) : recordWords.shadeOf(o);
}

export function wayBackLine(o: {
  readonly subject: string;
  readonly title: string;
  readonly reason: string;
}): string {
  return o.subject === '' ? recordWords.wayBack(o) : recordWords.wayBackOf(o);
}
