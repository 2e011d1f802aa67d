/**
 * What exported records say, by code; the texts stand with the other words. Numbers have no
 * local form here and times are those of the zone of the record, so that the same record reads the
 * same everywhere.
 */
import { unreachable } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { bareId, scopeOf } from '../protocol/subjects.ts';
import { localWords, offsetOf } from '../words/date-words.ts';
import { exportWords } from '../words/export-words.ts';
import { languageTag } from '../words/language.ts';
import { protocolWords } from '../words/protocol-words.ts';
import { zoneFactWords } from '../words/zone-words.ts';
import type { AnchorFact } from './anchor.ts';
import { anchorFactText } from './anchor.ts';
import type { Compared } from './record-timeline.ts';
import type {
  BreachFact,
  ChainFact,
  CorrectionFact,
  GapFact,
  InstantFact,
  LengthFact,
  PressedFact,
  RecordFacts,
  WayBackFact,
  WindowFact,
} from './record-types.ts';

/** `20 s`, `20.5 s`; every length in seconds, to the millisecond. */
export function secondsWords(ms: number): string {
  return `${ms / MS_PER_SECOND} s`;
}

/** `20 s`, `20 s to 27 s` when the clocks left it open, `at least 20 s` when nobody knows. */
export function lengthWords({ loMs, hiMs }: LengthFact): string {
  if (hiMs === null) return exportWords.atLeast(secondsWords(loMs));
  if (loMs === hiMs) return secondsWords(loMs);
  return exportWords.fromTo({ from: secondsWords(loMs), to: secondsWords(hiMs) });
}

/** `4:05`, `71:00`: minutes and seconds from the opening, whole seconds. */
export function clockWords(ms: number): string {
  const seconds = Math.round(ms / MS_PER_SECOND);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

type Span = Compared['planned'];

function spanWords(span: Span): string {
  if (span === null) return exportWords.notAtAll;
  const [from, to] = [clockWords(span.fromMs), clockWords(span.toMs)];
  return from === to ? exportWords.at(from) : exportWords.fromTo({ from, to });
}

/** `Etch: planned 4:05 to 5:00, done 4:35 to 5:40, ended 40 s later`. */
export function againstPlanWords({ title, planned, done }: Compared): string {
  const told = { title, planned: spanWords(planned), done: spanWords(done) };
  if (planned === null || done === null) return exportWords.planned(told);
  const byMs = Math.round((done.toMs - planned.toMs) / MS_PER_SECOND) * MS_PER_SECOND;
  if (byMs === 0) return exportWords.plannedAsDone(told);
  const by = secondsWords(Math.abs(byMs));
  return byMs > 0
    ? exportWords.plannedLater({ ...told, by })
    : exportWords.plannedEarlier({ ...told, by });
}

/** How one record tells its instants. */
export interface Telling {
  /** `27 Nov 2026, 09:00:05`; the milliseconds only when there are any. */
  moment(local: string): string;
  /** One instant, or the two that it lies between. */
  instant(at: InstantFact): string;
  /** The same as a phrase: `between … and …`. */
  within(at: InstantFact): string;
}

/** Local time in the zone of the record; the offset where it is another one than at its opening. */
export function tellingOf({ openedLocal }: Pick<RecordFacts, 'openedLocal'>): Telling {
  return tellingWith({ usual: offsetOf(openedLocal) });
}

/** The same where a moment stands by itself: without a usual offset each has its own. */
export function tellingWith({ usual }: { readonly usual: string }): Telling {
  const language = languageTag();
  const moment = (local: string): string => localWords(local, { language, usual });
  const instant = ({ fromLocal, toLocal }: InstantFact): string => {
    if (toLocal === null) return exportWords.orLater(moment(fromLocal));
    if (fromLocal === toLocal) return moment(fromLocal);
    return exportWords.fromTo({ from: moment(fromLocal), to: moment(toLocal) });
  };
  const within = (at: InstantFact): string => {
    const { fromLocal, toLocal } = at;
    if (toLocal === null || fromLocal === toLocal) return instant(at);
    const [from, to] = [moment(fromLocal), moment(toLocal)];
    // The day is told once.
    const day = from.slice(0, from.lastIndexOf(', ') + 2);
    return exportWords.between({ from, to: to.startsWith(day) ? to.slice(day.length) : to });
  };
  return { moment, instant, within };
}

/** Said once: in which zone the times are, and its offset at the opening. */
export function timesLine({ zone, openedLocal }: RecordFacts): string {
  return exportWords.times({ zone: zoneFactWords(zone), offset: offsetOf(openedLocal) });
}

/** `tooth 11`, `portion 1`, `unit 11`; empty for the case as a whole. */
export function subjectWords(subject: SubjectId): string {
  return exportWords.subjects[scopeOf(subject)](bareId(subject));
}

/** The parts that there are, one after another. */
export function told(parts: readonly (string | null)[], join = exportWords.parts): string {
  return join(parts.filter((part): part is string => part !== null && part !== ''));
}

function subjectsWords(subjects: readonly SubjectId[]): string {
  return told(subjects.map(subjectWords));
}

/** `tooth 11: what`; what alone where it is about the case as a whole. */
export const about = (of: string, what: string): string =>
  of === '' ? what : exportWords.about({ of, what });

/** By how much a limit was not kept; null when it may be any length. */
const byWords = (ms: number | null): string =>
  ms === null ? exportWords.unknownTime : secondsWords(ms);

/** `short of the minimum by 2 s`, `may be short of the minimum, by up to 2 s`. */
export function breachWords({
  kind,
  by,
  perhaps,
}: Pick<BreachFact, 'kind' | 'by' | 'perhaps'>): string {
  if (kind === 'passes-over') return exportWords.passesOver(by ?? 0);
  if (perhaps && kind !== 'exposure-short') {
    const upTo = by === null ? exportWords.byUnknown : exportWords.byUpTo(secondsWords(by));
    return exportWords.perhaps[kind](upTo);
  }
  return exportWords.breaches[kind](byWords(by));
}

/** `tooth 11: Etching gel on enamel, short of the minimum by 2 s`. */
export function breachLine(breach: BreachFact): string {
  const what = exportWords.breach({ title: breach.title, by: breachWords(breach) });
  return about(subjectWords(breach.subject), what);
}

export function wayBackLine(taken: WayBackFact): string {
  const { subjects, title, mishap, reason, voided } = taken;
  const what = about(subjectsWords(subjects), title ?? protocolWords.mishaps[mishap]);
  return voided.length === 0
    ? exportWords.wayBack({ what, reason })
    : exportWords.wayBackVoiding({ what, reason, voided });
}

/** `step-started etch tooth 11`: the codes that stand in the log. */
export function pressedWords(was: readonly PressedFact[]): string {
  return exportWords.several(
    was.map(({ type, step, subjects, how }) =>
      told([type, step, subjectsWords(subjects), how && `(${how})`], exportWords.together),
    ),
  );
}

function correctionWords(fact: CorrectionFact, { moment }: Telling): string {
  switch (fact.kind) {
    case 'taken-back': {
      const { press, pressedLocal } = fact.of;
      const was = pressedWords(fact.was);
      return exportWords.takenBack({ press, at: moment(pressedLocal), was });
    }
    case 'moved': {
      const by = secondsWords(Math.abs(fact.byMs));
      const { press, pressedLocal } = fact.of;
      const moved = { press, at: moment(pressedLocal), by, was: pressedWords(fact.was) };
      return fact.byMs < 0 ? exportWords.movedEarlier(moved) : exportWords.movedLater(moved);
    }
    case 'gap-settled':
      return exportWords.gapSettled({ gap: fact.gap, length: secondsWords(fact.lengthMs) });
    case 'plan-changed':
      return exportWords.planChanged(fact.reason);
    case 'mix-added':
      return exportWords.portionAdded(fact);
    default:
      return unreachable(fact);
  }
}

/** `27 Nov 2026, 09:01:37, Dentist A: press 11 of … moved 2 s earlier (…)`. */
export function correctionLine(fact: CorrectionFact, telling: Telling): string {
  const line = {
    at: telling.moment(fact.pressed.pressedLocal),
    who: fact.pressed.by ?? exportWords.theApp,
    what: correctionWords(fact, telling),
  };
  return fact.isInForce ? exportWords.correction(line) : exportWords.correctionUndone(line);
}

export function gapLine(
  { at, cause, length, isSettled, isUntrusted }: GapFact,
  telling: Telling,
): string {
  const gap = exportWords.gap({
    at: telling.instant(at),
    cause: exportWords.gapCauses[cause],
    length: lengthWords(length),
  });
  if (isSettled) return exportWords.gapSettledByPeople(gap);
  return isUntrusted ? exportWords.gapOpenAbove(gap) : gap;
}

function minWords({ minMs, marginOverMinMs, closed }: WindowFact): string | null {
  if (minMs === null) return null;
  const limit = secondsWords(minMs);
  if (marginOverMinMs !== null) {
    return exportWords.min({ limit, margin: secondsWords(marginOverMinMs) });
  }
  return closed === null ? exportWords.minOpen(limit) : exportWords.minUnknown(limit);
}

function maxWords({ judgedMaxMs, marginToMaxMs, closed }: WindowFact): string | null {
  if (judgedMaxMs === null) return null;
  const limit = secondsWords(judgedMaxMs);
  if (marginToMaxMs !== null) {
    return exportWords.max({ limit, margin: secondsWords(marginToMaxMs) });
  }
  return closed === null ? exportWords.maxOpen(limit) : exportWords.maxUnknown(limit);
}

/** `min 120 s, margin 34 s; max 240 s, margin -6 s`. */
export function marginWords(window: WindowFact): string {
  return told([minWords(window), maxWords(window)], exportWords.several);
}

/** What the signature of an anchor shows. */
export function anchorNote({ publicKey, isSigned }: AnchorFact): string {
  if (publicKey === null) return exportWords.anchorPlain;
  return isSigned === true ? exportWords.anchorSigned(publicKey) : exportWords.anchorUnchecked;
}

/** The anchor as it is handed to the terminal, and what its signature shows. */
export function anchorLines({ anchor }: ChainFact): string[] {
  if (anchor === undefined) return [];
  return [exportWords.anchor(anchorFactText(anchor)), anchorNote(anchor)];
}

/** Up to where the entries are known elsewhere, or that nothing of them is. */
export function anchorageLines({ anchorage }: ChainFact, { moment }: Telling): string[] {
  if (anchorage === undefined) return [];
  if (anchorage === null) return [exportWords.notAnchored];
  const { entries, atLocal, knownTo } = anchorage;
  return [exportWords.anchoredUpTo({ entries, at: moment(atLocal), knownTo })];
}

/** What an anchor finds of so many entries that the chain by itself cannot; null where it holds. */
export function anchorFault(entries: number, anchor: AnchorFact | undefined): string | null {
  if (anchor === undefined || anchor.state === 'holds') return null;
  return anchor.state === 'cut'
    ? exportWords.chainCut({ entries, named: anchor.entries })
    : exportWords.chainDiffers(anchor.entries);
}

export function chainLine(chain: ChainFact): string {
  const { entries, isWhole, firstBad, setApart: apart, anchor } = chain;
  const fault = firstBad === null && apart === 0 ? anchorFault(entries, anchor) : null;
  if (fault !== null) return fault;
  if (isWhole) return exportWords.chainWhole(entries);
  if (firstBad === null) return exportWords.chainBroken({ entries, apart });
  return exportWords.chainBrokenAt({ entries, apart, ...firstBad });
}
