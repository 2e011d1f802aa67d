/**
 * The words of exported records, in one place. Plain English without any local form of numbers or
 * dates, so that the same record reads the same everywhere. Never "cured", never a judgement of a
 * person: what was asked, what the clocks counted, by how much they differ.
 */
import { unreachable } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import type { Compared } from './record-timeline.ts';
import type {
  BreachFact,
  ChainFact,
  CorrectionFact,
  GapFact,
  InstantFact,
  LengthFact,
  PressedFact,
  WayBackFact,
  WindowFact,
} from './record-types.ts';

/** `20 s`, `20.5 s`; every length in seconds, to the millisecond. */
export function secondsWords(ms: number): string {
  return `${ms / MS_PER_SECOND} s`;
}

/** `20 s`, `20 s to 27 s` when the clocks left it open, `at least 20 s` when nobody knows. */
export function lengthWords({ loMs, hiMs }: LengthFact): string {
  if (hiMs === null) return `at least ${secondsWords(loMs)}`;
  return loMs === hiMs ? secondsWords(loMs) : `${secondsWords(loMs)} to ${secondsWords(hiMs)}`;
}

/** `4:05`, `71:00`: minutes and seconds from the opening, whole seconds. */
export function clockWords(ms: number): string {
  const seconds = Math.round(ms / MS_PER_SECOND);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

type Span = Compared['planned'];

function spanWords(span: Span): string {
  if (span === null) return 'not at all';
  const [from, to] = [clockWords(span.fromMs), clockWords(span.toMs)];
  return from === to ? `at ${from}` : `${from} to ${to}`;
}

/** `Etch: planned 4:05 to 5:00, done 4:35 to 5:40, ended 40 s later`. */
export function againstPlanWords({ title, planned, done }: Compared): string {
  const told = `${title}: planned ${spanWords(planned)}, done ${spanWords(done)}`;
  if (planned === null || done === null) return told;
  const byMs = Math.round((done.toMs - planned.toMs) / MS_PER_SECOND) * MS_PER_SECOND;
  if (byMs === 0) return `${told}, ended as planned`;
  return `${told}, ended ${secondsWords(Math.abs(byMs))} ${byMs > 0 ? 'later' : 'earlier'}`;
}

/** `2026-11-27 09:00:05 UTC`; the milliseconds only when there are any. */
export function utcWords(utcText: string): string {
  const [date = '', clock = ''] = utcText.split('T');
  return `${date} ${clock.replace(/(\.000)?Z$/, '')} UTC`;
}

/** One instant, or the two that it lies between. */
export function instantWords({ fromUtc, toUtc }: InstantFact): string {
  if (toUtc === null) return `${utcWords(fromUtc)} or later`;
  return fromUtc === toUtc ? utcWords(fromUtc) : `${utcWords(fromUtc)} to ${utcWords(toUtc)}`;
}

/** `tooth 11`, `mix 1`, `unit 11`; empty for the case as a whole. */
export function subjectWords(subject: string): string {
  return subject === 'case' ? '' : subject.replace(':', ' ');
}

export function subjectsWords(subjects: readonly string[]): string {
  return subjects
    .map(subjectWords)
    .filter((words) => words !== '')
    .join(', ');
}

/** By how much a bound was not kept; null when it may be any length. */
export const byWords = (ms: number | null): string =>
  ms === null ? 'an unknown time' : secondsWords(ms);

/** `short of the minimum by 2 s`. */
export function breachWords({ kind, by }: Pick<BreachFact, 'kind' | 'by'>): string {
  switch (kind) {
    case 'short':
      return `short of the minimum by ${byWords(by)}`;
    case 'over':
      return `over the maximum by ${byWords(by)}`;
    case 'early':
      return `closed before its minimum by ${byWords(by)}`;
    case 'late':
      return `outside the window by ${byWords(by)}`;
    case 'exposure-short':
      return `exposure given short by ${byWords(by)}`;
    case 'passes-over':
      return by === 1 ? '1 pass over the limit' : `${by} passes over the limit`;
    default:
      return unreachable(kind);
  }
}

const joined = (parts: readonly string[], by: string): string =>
  parts.filter((part) => part !== '').join(by);

/** `tooth 11: Etching gel on enamel, short of the minimum by 2 s`. */
export function breachLine(breach: BreachFact): string {
  const told = `${breach.title}, ${breachWords(breach)}`;
  return joined([subjectWords(breach.subject), told], ': ');
}

export function wayBackLine(taken: WayBackFact): string {
  const what = joined([subjectsWords(taken.subjects), taken.title ?? taken.mishap], ': ');
  const voided = taken.voided.length === 0 ? '' : ` No longer counts: ${taken.voided.join(', ')}.`;
  return `${what}. Reason: ${taken.reason}.${voided}`;
}

/** `step-started etch tooth 11`. */
function pressedWords(was: readonly PressedFact[]): string {
  return was
    .map(({ type, step, subjects }) => joined([type, step ?? '', subjectsWords(subjects)], ' '))
    .join('; ');
}

function correctionWords(fact: CorrectionFact): string {
  switch (fact.kind) {
    case 'taken-back':
      return `press ${fact.of.press} of ${utcWords(fact.of.pressedUtc)} taken back (${pressedWords(fact.was)})`;
    case 'moved': {
      const way = fact.byMs < 0 ? 'earlier' : 'later';
      const by = secondsWords(Math.abs(fact.byMs));
      return `press ${fact.of.press} of ${utcWords(fact.of.pressedUtc)} moved ${by} ${way} (${pressedWords(fact.was)})`;
    }
    case 'gap-settled':
      return `gap ${fact.gap} settled at ${secondsWords(fact.lengthMs)}`;
    case 'plan-changed':
      return `plan changed: ${fact.reason}`;
    case 'mix-added':
      return `new mix for units ${fact.units.join(', ')}: ${fact.reason}`;
    default:
      return unreachable(fact);
  }
}

/** `2026-11-27 09:01:37 UTC, Dentist A: press 11 of … moved 2 s earlier (…)`. */
export function correctionLine(fact: CorrectionFact): string {
  const undone = fact.isInForce ? '' : ' - itself taken back';
  const who = fact.pressed.by ?? 'the app';
  return `${utcWords(fact.pressed.pressedUtc)}, ${who}: ${correctionWords(fact)}${undone}`;
}

const CAUSE_WORDS: Readonly<Record<GapFact['cause'], string>> = {
  closed: 'the app was closed',
  'asleep-or-moved': 'the tablet slept or its clock was moved forward',
  'moved-back': 'the clock of the tablet was moved back',
};

export function gapLine({ at, cause, length, isSettled, isUntrusted }: GapFact): string {
  const how = isSettled ? ', settled by people' : isUntrusted ? ', upper end not known' : '';
  return `${instantWords(at)}: ${CAUSE_WORDS[cause]}, ${lengthWords(length)}${how}`;
}

/** `min 120 s, margin 34 s; max 240 s, margin -6 s`. */
export function marginWords(window: WindowFact): string {
  const side = (name: string, limitMs: number | null, marginMs: number | null): string => {
    if (limitMs === null) return '';
    const none = window.closed === null ? 'open' : 'margin not known';
    const margin = marginMs === null ? none : `margin ${secondsWords(marginMs)}`;
    return `${name} ${secondsWords(limitMs)}, ${margin}`;
  };
  return joined(
    [
      side('min', window.minMs, window.marginOverMinMs),
      side('max', window.judgedMaxMs, window.marginToMaxMs),
    ],
    '; ',
  );
}

export function chainLine(chain: ChainFact): string {
  const entries = chain.entries === 1 ? '1 entry holds' : `${chain.entries} entries hold`;
  if (chain.isWhole) return `${entries}, each hash fits the next`;
  const from =
    chain.firstBad === null
      ? ''
      : `, the first that does not is entry ${chain.firstBad.index} (${chain.firstBad.reason})`;
  return `${entries}${from}; ${chain.setApart} set apart`;
}

export const GOVERN =
  'This is a timer and a notebook for trained staff. Instructions for use and licensed judgement govern.';
export const REHEARSAL = 'Rehearsal: no patient was treated.';
