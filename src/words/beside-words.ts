/** Words of what runs beside the steps: anaesthesia, rests, counts. */
import type { Numbness } from '../calc/anaesthesia.ts';
import type { Injection } from '../engine/aside-types.ts';
import type { Notation } from '../protocol/case-types.ts';
import { formatWords } from './duration.ts';
import { beside } from './en/beside.ts';
import { spoken } from './language.ts';
import { toothLabel } from './subject-words.ts';

export const besideWords = spoken('beside', beside);

const MINUTE_MS = 60_000;

/** "12 min": seconds say nothing here; a started minute counts down to what has passed. */
export const minutesWords = (ms: number): string =>
  ms > 0 && ms < MINUTE_MS
    ? besideWords.underMinute
    : formatWords(Math.floor(ms / MINUTE_MS) * MINUTE_MS);

/** "in about 12 min", or "in less than a minute" where it is due as well. */
export const soonWords = (ms: number): string =>
  ms < MINUTE_MS ? besideWords.inUnderMinute : besideWords.inAbout(minutesWords(ms));

/** "12 min", or "12 min to 15 min", or "12 min or more" where nobody knows. */
export function sinceWords({
  loMs,
  hiMs,
}: {
  readonly loMs: number;
  readonly hiMs: number;
}): string {
  const lo = minutesWords(loMs);
  if (!Number.isFinite(hiMs)) return besideWords.orMore(lo);
  const hi = minutesWords(hiMs);
  return lo === hi ? lo : besideWords.fromTo({ lo, hi });
}

export const agentWords = (agent: string): string => besideWords.agents[agent] ?? agent;
export const techniqueWords = (id: string): string => besideWords.techniques[id] ?? id;

/** "Articaine 4 %, adrenaline 1:200 000, Upper infiltration, for 12 and 11". */
export function injectionWords(
  { agent, technique, teeth, ml }: Omit<Injection, 'ml'> & { readonly ml?: number | null },
  notation: Notation,
): string {
  const given = besideWords.given({
    agent: agentWords(agent),
    technique: techniqueWords(technique),
    teeth: teeth.map((tooth) => toothLabel(tooth, notation)),
  });
  return ml === undefined || ml === null ? given : besideWords.givenMl({ given, ml });
}

export function pulpWords(numbness: Numbness | null): string {
  if (numbness === null) return besideWords.pulpUnknown;
  if (numbness.pulpalMs !== null) return besideWords.pulp(minutesWords(numbness.pulpalMs));
  return numbness.warnAtMs === null ? besideWords.pulpUnknown : besideWords.pulpFalls;
}

export function softTissueWords(numbness: Numbness | null): string {
  const soft = numbness?.softTissueMs ?? null;
  if (soft === null) return besideWords.softUnknown;
  const hi = formatWords(soft.hiMs);
  return soft.loMs === null
    ? besideWords.softTo(hi)
    : besideWords.soft({ lo: formatWords(soft.loMs), hi });
}

interface Counted {
  readonly title: string;
  readonly in: number | null;
  readonly out: number | null;
}

/** What is told of a count, with numbers that nobody typed said as such. */
function told({ title, in: into, out }: Counted) {
  const shown = (n: number | null): string => (n === null ? besideWords.notCounted : String(n));
  return { title, in: shown(into), out: shown(out) };
}

/** How many are in, and for how long; where nobody noted a number, it asks for one. */
export function countedInWords(count: Counted, span: string): string {
  const { title } = count;
  if (count.in === null) return besideWords.inUnknown({ title, span });
  return besideWords.inSince({ ...told(count), span });
}

/** What came out against what went in: numbers that differ, or that nobody noted, are not the same. */
export function countedWords(
  count: Counted & { readonly isEven: boolean },
  o: { readonly isSigned: boolean },
): string {
  const words = told(count);
  if (count.isEven) return besideWords.even(words);
  const isKnown = count.in !== null && count.out !== null;
  if (o.isSigned)
    return isKnown ? besideWords.unevenSigned(words) : besideWords.unknownSigned(words);
  return isKnown ? besideWords.uneven(words) : besideWords.unknown(words);
}
