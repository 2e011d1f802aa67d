/** What a running clock is called, and why its figure is an interval. */
import { unreachable } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import { isExact } from '../engine/axis.ts';
import type { Clock, Gap, GapCause } from '../engine/types.ts';
import { formatWordsInterval } from './duration.ts';
import type { CaseNaming } from './offer-words.ts';
import { SURFACE_WORDS, subjectsLabel } from './subject-words.ts';

/** "Etch 12", "Light shield 8 units", "Exposure 12, incisal". */
export function clockLabel(clock: Clock, { spec }: CaseNaming): string {
  const subject = subjectsLabel(clock.subjects, spec);
  const place = clock.surface ? `${subject}, ${SURFACE_WORDS[clock.surface]}` : subject;
  return `${clock.title} ${place}`.trim();
}

const CAUSES: Readonly<Record<GapCause, string>> = {
  closed: 'The app was closed',
  'asleep-or-moved': 'The tablet slept or its clock was moved',
  'moved-back': 'The tablet’s clock was set back',
};

/** "The app was closed for 0 s to 48 s". */
export function gapWords(
  gap: Pick<Gap, 'cause' | 'untrusted'> & { readonly loMs: number; readonly hiMs: number },
): string {
  const cause = CAUSES[gap.cause];
  if (gap.untrusted) return `${cause} for an unknown time; its clock was set back meanwhile`;
  if (gap.hiMs < MS_PER_SECOND) return `${cause} for less than 1\u00a0s`;
  return `${cause} for ${formatWordsInterval({ loMs: gap.loMs, hiMs: gap.hiMs })}`;
}

/** The reason beside an interval: the newest gap that nobody has settled. */
export function intervalReason(clock: Clock, gaps: readonly Gap[]): string | undefined {
  if (isExact(clock.elapsed)) return undefined;
  const gap = gaps.findLast((g) => !g.settled && g.hiMs > g.loMs);
  return gap ? gapWords(gap) : undefined;
}

/** How close a clock is to its limit. */
export function clockLevel(clock: Clock, closingLeadMs: number): 'calm' | 'closing' | 'broken' {
  if (clock.maxMs === null) return 'calm';
  const leftMs = clock.maxMs - clock.elapsed.hiMs;
  if (leftMs < 0) return 'broken';
  return leftMs <= closingLeadMs ? 'closing' : 'calm';
}

/** Words of a cue, by what it is about. */
export function cueWords(
  kind: 'nearing' | 'now' | 'over' | 'window-closing' | 'window-broken',
  o: { readonly title: string; readonly subject: string },
): string {
  const of = `${o.title} ${o.subject}`.trim();
  switch (kind) {
    case 'nearing':
      return `${of}: 5 s left`;
    case 'now':
      return `${of}: time elapsed`;
    case 'over':
      return `${of}: over the limit`;
    case 'window-closing':
      return `${of}: closing`;
    case 'window-broken':
      return `${of}: outside the window`;
    default:
      return unreachable(kind);
  }
}
