/** What the first screen shows: what goes on, what is due, what is finished. Pure. */
import type { CaseFile } from '../../protocol/types.ts';
import type { AppState, ProtocolEntry } from '../../runtime/app-state.ts';
import { instantOf, type Times } from '../../words/date-words.ts';
import { subjectLabel, toothLabel } from '../../words/subject-words.ts';
import type { ArchTooth } from '../parts/Arch.tsx';

type Summary = AppState['cases'][number];

export type Standing = 'confirmed' | 'unconfirmed' | 'missing';

export interface PreparedCard {
  readonly spec: CaseFile;
  /** "09:00" under the heading of its day, the whole date under "Later". */
  readonly when: string;
  readonly teeth: readonly ArchTooth[];
  /** "11, 21, 12" in seating order. */
  readonly order: string;
  readonly standing: Standing;
  readonly protocolTitle: string;
}

export type DueGroupId = 'past' | 'today' | 'tomorrow' | 'later' | 'unset';

export interface DueGroup {
  readonly id: DueGroupId;
  readonly cards: readonly PreparedCard[];
}

export interface TodayModel {
  /** Open cases, the one to go on with first. */
  readonly open: readonly Summary[];
  readonly groups: readonly DueGroup[];
  readonly finished: readonly Summary[];
  /** Prepared cases for today and tomorrow. */
  readonly dueCount: number;
}

const GROUPS: readonly DueGroupId[] = ['past', 'today', 'tomorrow', 'later', 'unset'];

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

function groupOf(spec: CaseFile, { nowMs, times }: { nowMs: number; times: Times }): DueGroupId {
  const at = instantOf(spec.scheduledFor);
  return at === null ? 'unset' : times.dayKind(at, { nowMs });
}

function cardWhen(spec: CaseFile, o: { group: DueGroupId; nowMs: number; times: Times }): string {
  const at = instantOf(spec.scheduledFor);
  if (at === null) return '';
  return o.group === 'today' || o.group === 'tomorrow' ? o.times.time(at) : o.times.when(at, o);
}

function cardOf(
  spec: CaseFile,
  o: { group: DueGroupId; nowMs: number; times: Times; protocols: readonly ProtocolEntry[] },
): PreparedCard {
  const entry = o.protocols.find((p) => p.protocol.id === spec.protocol);
  return {
    spec,
    when: cardWhen(spec, o),
    teeth: restingTeeth(spec),
    order: spec.units.map((u) => subjectLabel(`unit:${u.id}`, spec)).join(', '),
    standing: standingOf(entry),
    protocolTitle: entry?.protocol.title ?? spec.protocol,
  };
}

/** Cases that were begun and not closed, the one to go on with first. */
export function openCases(
  cases: readonly Summary[],
  runningId: string | null = null,
): readonly Summary[] {
  return cases.filter((c) => c.closedByPress === null).toSorted(openFirst(runningId));
}

function openFirst(runningId: string | null) {
  const rank = (c: Summary): number => {
    if (c.caseId === runningId) return 0;
    return c.mode === 'patient' ? 1 : 2;
  };
  return (a: Summary, b: Summary): number =>
    rank(a) - rank(b) || b.lastStamp.wallMs - a.lastStamp.wallMs;
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
  const { nowMs, times, protocols } = o;
  const byTime = o.prepared.toSorted(
    (a, b) => (instantOf(a.scheduledFor) ?? Infinity) - (instantOf(b.scheduledFor) ?? Infinity),
  );
  const groups = GROUPS.map((id) => ({
    id,
    cards: byTime
      .filter((spec) => groupOf(spec, o) === id)
      .map((spec) => cardOf(spec, { group: id, nowMs, times, protocols })),
  })).filter((g) => g.cards.length > 0);
  const due = groups.filter((g) => g.id === 'today' || g.id === 'tomorrow');
  return {
    open: openCases(o.cases, o.runningId),
    groups,
    finished: o.cases
      .filter((c) => c.closedByPress !== null)
      .toSorted((a, b) => b.lastStamp.wallMs - a.lastStamp.wallMs),
    dueCount: due.reduce((sum, g) => sum + g.cards.length, 0),
  };
}
