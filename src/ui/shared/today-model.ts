/** What the first screen shows: what goes on, what is due, what is finished. Pure. */
import { unreachable } from '../../base/assert.ts';
import { holdOf } from '../../engine/follow-on.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { AppState, ProtocolEntry } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { instantOf, type Times } from '../../words/date-words.ts';
import { subjectLabel, toothLabel } from '../../words/subject-words.ts';
import { todayWords } from '../../words/today-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import type { ArchTooth } from '../parts/Arch.tsx';

type Summary = AppState['cases'][number];

export type Standing = 'confirmed' | 'unconfirmed' | 'missing';

export interface PreparedCard {
  readonly spec: CaseFile;
  /** "09:00" under the heading of its day, with the day where that is gone by. */
  readonly when: string;
  readonly teeth: readonly ArchTooth[];
  /** The numbering of its teeth, where cases in several stand in the list; else empty. */
  readonly numbering: string;
  /** "Seating order: 11, 21, 12" */
  readonly order: string;
  readonly standing: Standing;
  readonly protocolTitle: string;
  /** Of a finishing visit without a date of its own: when the hold since the last light ends. */
  readonly holdEndsMs: number | null;
}

/** Of a day gone by, of today or tomorrow, of a day further on, of none. */
type DueGroupKind = 'overdue' | 'near' | 'far' | 'unset';

/** Prepared cases under one heading. */
export interface DueGroup {
  readonly kind: DueGroupKind;
  /** The day itself, "Thu 26 Nov 2026", or a word. */
  readonly title: string;
  readonly cards: readonly PreparedCard[];
}

interface TodayModel {
  /** Open cases, the one to go on with first. */
  readonly open: readonly Summary[];
  readonly groups: readonly DueGroup[];
  readonly finished: readonly Summary[];
  /** Prepared cases for today and tomorrow. */
  readonly dueCount: number;
}

/** Teeth of a case as an arch draws them before anything was done. */
function restingTeeth(spec: Pick<CaseFile, 'units' | 'notation'>): ArchTooth[] {
  return spec.units.flatMap((unit) =>
    unit.teeth.map((id) => ({
      id,
      label: toothLabel(id, spec.notation),
      word: '',
      state: 'waiting' as const,
      progress: 0,
      active: false,
    })),
  );
}

function standingOf(entry: ProtocolEntry | undefined): Standing {
  if (!entry) return 'missing';
  return entry.approval === null ? 'unconfirmed' : 'confirmed';
}

interface Seen {
  readonly nowMs: number;
  readonly times: Times;
}

type Heading = Pick<DueGroup, 'kind' | 'title'>;

/** Which heading a case stands under: all that is overdue has one, and every day its own. */
function headingOf(spec: CaseFile, { nowMs, times }: Seen): Heading {
  const at = instantOf(spec.scheduledFor);
  if (at === null) return { kind: 'unset', title: todayWords.noDate };
  const dayKind = times.dayKind(at, { nowMs });
  switch (dayKind) {
    case 'past':
      return { kind: 'overdue', title: todayWords.overdue };
    case 'today':
    case 'tomorrow':
      return { kind: 'near', title: times.day(at) };
    case 'later':
      return { kind: 'far', title: times.day(at) };
    default:
      return unreachable(dayKind);
  }
}

function whenWords(spec: CaseFile, o: Seen & { readonly kind: DueGroupKind }): string {
  const at = instantOf(spec.scheduledFor);
  if (at === null) return '';
  return o.kind === 'overdue' ? o.times.when(at, o) : o.times.time(at);
}

/**
 * Whether a patient's case was begun from a case file: then it stands among the open cases, to be gone on
 * with, or among the closed ones. A rehearsal of it begins nothing.
 */
const isBegun = (spec: CaseFile, cases: readonly Summary[]): boolean =>
  cases.some((c) => c.mode === 'patient' && c.specId === spec.id);

/** When the hold since the last light ends, as long as its protocol says; null for a visit with a date. */
function holdEndsMs(spec: CaseFile, entry: ProtocolEntry | undefined): number | null {
  if (spec.scheduledFor !== undefined || entry === undefined) return null;
  return holdOf(spec, entry.protocol)?.endsMs ?? null;
}

/** Prepared cases by heading, in the order of their times; those without a date come last. */
function groupsOf(
  o: Seen & {
    readonly cases: readonly Summary[];
    readonly prepared: readonly CaseFile[];
    readonly protocols: readonly ProtocolEntry[];
  },
): readonly DueGroup[] {
  const byTime = o.prepared
    .filter((spec) => !isBegun(spec, o.cases))
    .toSorted(
      (a, b) => (instantOf(a.scheduledFor) ?? Infinity) - (instantOf(b.scheduledFor) ?? Infinity),
    );
  const isMixed = new Set(byTime.map(({ notation }) => notation)).size > 1;
  const groups = new Map<string, DueGroup>();
  for (const spec of byTime) {
    const { kind, title } = headingOf(spec, o);
    const card = cardOf(spec, { ...o, kind, isMixed });
    groups.set(title, { kind, title, cards: [...(groups.get(title)?.cards ?? []), card] });
  }
  return [...groups.values()];
}

function cardOf(
  spec: CaseFile,
  o: Seen & {
    readonly kind: DueGroupKind;
    readonly protocols: readonly ProtocolEntry[];
    readonly isMixed: boolean;
  },
): PreparedCard {
  const entry = o.protocols.find((p) => p.protocol.id === spec.protocol);
  const holdMs = holdEndsMs(spec, entry);
  return {
    spec,
    when: holdMs === null ? whenWords(spec, o) : todayWords.holdEnds(o.times.whenInLine(holdMs, o)),
    holdEndsMs: holdMs,
    teeth: restingTeeth(spec),
    numbering: o.isMixed ? chairWords.numberings[spec.notation] : '',
    order: todayWords.order(spec.units.map((u) => subjectLabel(`unit:${u.id}`, spec))),
    standing: standingOf(entry),
    protocolTitle: entry === undefined ? spec.protocol : toldProtocol(entry.protocol).title,
  };
}

/** Cases that were begun and not closed, the one to go on with first. */
export function openCases(
  cases: readonly Summary[],
  runningId: string | null = null,
): readonly Summary[] {
  return cases.filter((c) => c.closedByPress === null).toSorted(openFirst(runningId));
}

/**
 * Whether another tablet goes on with a case. On a tablet that never shared, a case that a file brought is its own.
 */
export function isElsewhere(
  { pen, mode }: Summary,
  o: { readonly tablet: string; readonly isShared: boolean },
): boolean {
  if (pen === undefined || mode === 'rehearsal') return false;
  if (pen.given !== undefined) return true;
  return pen.tablet !== o.tablet && (o.isShared || pen.name !== undefined);
}

/** When something was last done in a case. The entries of a fast rehearsal are ahead of the clock. */
export const lastDoneMs = (c: Summary): number =>
  c.mode === 'patient' ? c.lastStamp.wallMs : c.openedWallMs;

function openFirst(runningId: string | null) {
  const rank = (c: Summary): number => {
    if (c.caseId === runningId) return 0;
    return c.mode === 'patient' ? 1 : 2;
  };
  return (a: Summary, b: Summary): number => rank(a) - rank(b) || lastDoneMs(b) - lastDoneMs(a);
}

/**
 * The case that a reading window follows: the one that runs on this tablet, as far as it was heard of;
 * else the open one to go on with first.
 */
export function caseToFollow(cases: readonly Summary[], liveCaseId: string | null): string | null {
  return openCases(cases, liveCaseId)[0]?.caseId ?? null;
}

/** Works out the first screen as of `nowMs` (wall clock, ms). */
export function todayModel(o: {
  readonly cases: readonly Summary[];
  readonly prepared: readonly CaseFile[];
  readonly protocols: readonly ProtocolEntry[];
  readonly runningId: string | null;
  readonly nowMs: number;
  readonly times: Times;
}): TodayModel {
  const groups = groupsOf(o);
  const due = groups.filter((g) => g.kind === 'near');
  return {
    open: openCases(o.cases, o.runningId),
    groups,
    finished: o.cases
      .filter((c) => c.closedByPress !== null)
      .toSorted((a, b) => lastDoneMs(b) - lastDoneMs(a)),
    dueCount: due.reduce((sum, g) => sum + g.cards.length, 0),
  };
}
