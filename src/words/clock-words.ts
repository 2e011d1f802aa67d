/** What a running clock is called, and why its figure is an interval. */
import { MS_PER_SECOND } from '../base/units.ts';
import { isExact } from '../engine/axis.ts';
import { gapInDoubt } from '../engine/gap-in-doubt.ts';
import type { Gap } from '../engine/types.ts';
import type { Clock, CueKind } from '../engine/view-types.ts';
import { formatWordsInterval } from './duration.ts';
import { clock as english } from './en/clock.ts';
import { spoken } from './language.ts';
import type { CaseNaming } from './step-texts.ts';
import { subjectsLabel, surfaceOn, teethUnder } from './subject-words.ts';

const words = spoken('clock', english);

/** "Etch 12", "Light shield 8 units", "Exposure 12, incisal"; "Seated 12, 3 later" for the first of several. */
export function clockLabel(clock: Clock, { spec }: Pick<CaseNaming, 'spec'>, later = 0): string {
  const { title, surface } = clock;
  const named = subjectsLabel(clock.subjects, spec);
  const subject = later === 0 ? named : words.withLater({ subject: named, count: later });
  return surface === undefined
    ? words.label({ title, subject })
    : words.labelOnSurface({
        title,
        subject,
        surface: surfaceOn(surface, teethUnder(clock.subjects, spec)),
      });
}

/** "22, facial": where the tones of a pass lead. */
export function ledPlace(
  { subjects, surface }: Pick<Clock, 'subjects' | 'surface'>,
  { spec }: Pick<CaseNaming, 'spec'>,
): string {
  const subject = subjectsLabel(subjects, spec);
  if (surface === undefined) return subject;
  return words.onSurface({ subject, surface: surfaceOn(surface, teethUnder(subjects, spec)) });
}

/** "light on, 2 of 10": how far a pass is, under its clock. */
export function passWhere(clock: Clock, o: { readonly at: number; readonly of: number }): string {
  return clock.kind === 'rest' ? words.changeOf(o) : words.lightOf(o);
}

/** "Cement, portion 1", for its working time. */
export const cementLabel = (portion: string): string => words.cement(portion);
export const cementLeft = (): string => words.cementLeft;

/** "The app was closed for 0 s to 48 s". */
export function gapWords(
  gap: Pick<Gap, 'cause' | 'untrusted'> & { readonly loMs: number; readonly hiMs: number | null },
): string {
  const told = words.gaps[gap.cause];
  if (gap.untrusted || gap.hiMs === null) return told.unknown;
  if (gap.hiMs < MS_PER_SECOND) return told.brief;
  return told.span(formatWordsInterval({ loMs: gap.loMs, hiMs: gap.hiMs }));
}

/** The reason beside an interval: one press for several moments, or the gap that is asked about. */
export function intervalReason(clock: Clock, gaps: readonly Gap[]): string | undefined {
  if (isExact(clock.elapsed)) return undefined;
  if (clock.isSpread && Number.isFinite(clock.elapsed.hiMs)) return words.spread;
  const gap = gapInDoubt(gaps);
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
  kind: CueKind,
  o: {
    readonly title: string;
    readonly subject: string;
    /** Nobody knows how long it was: the limit only counts as passed. */
    readonly isInDoubt?: boolean;
  },
): string {
  const cues = o.isInDoubt === true ? words.cuesInDoubt : words.cues;
  return cues[kind](words.label(o));
}
