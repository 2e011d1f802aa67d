/**
 * What the chair screen shows, worked out from the running case: the heading, the one clock that
 * matters, the arch, the bar. Pure, so that it can be tested without a screen.
 */

import { closingLeadMs } from '../../engine/cues.ts';
import { layoutOf } from '../../engine/layout.ts';
import type { Clock, Offer } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { clockLabel, clockLevel, intervalReason } from '../../words/clock-words.ts';
import type { Urgency } from '../../words/codes.ts';
import { type CaseNaming, offerWhen, offerWords, stepOf } from '../../words/offer-words.ts';
import { subjectsLabel } from '../../words/subject-words.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';

export interface BarModel {
  readonly offer: Offer;
  readonly words: string;
  readonly when: string | undefined;
  readonly urgency: Urgency;
}

const DUE_SLACK_MS = 10_000;

function urgencyOf(offer: Offer): Urgency {
  if (offer.dueInMs > 0) return 'early';
  if (offer.slackMs !== null && offer.slackMs < 0) return 'over';
  const isTight = offer.slackMs !== null && offer.slackMs <= DUE_SLACK_MS;
  return isTight || offer.kind === 'end' || offer.kind === 'light-move' ? 'due' : 'ready';
}

export function barModel(offer: Offer, naming: CaseNaming): BarModel {
  return {
    offer,
    words: offerWords(offer, naming),
    when: offerWhen(offer),
    urgency: urgencyOf(offer),
  };
}

/** Whether what the bar waited for in one picture has become due in the next, and nothing was pressed. */
export function hasTurned(before: RunningCase, now: RunningCase): boolean {
  const [was, is] = [before.view.offers[0], now.view.offers[0]];
  if (!was || !is || before.log !== now.log) return false;
  return was.dueInMs > 0 && is.dueInMs <= 0;
}

/** Other choices of the same question, or another way to end the same count. */
export function alternatives(offers: readonly Offer[]): readonly Offer[] {
  const top = offers[0];
  const many: readonly Offer['kind'][] = ['choose', 'pass', 'all-passes', 'passes-done'];
  if (!top || !many.includes(top.kind)) return [];
  return offers.slice(1).filter((o) => o.step === top.step && sameSubjects(o, top));
}

const sameSubjects = (a: Offer, b: Offer): boolean => a.subjects.join() === b.subjects.join();

/** The first offer after the top one that is another thing to do. */
export function nextOffer(offers: readonly Offer[]): Offer | undefined {
  const top = offers[0];
  return offers.slice(1).find((o) => top && !(o.step === top.step && sameSubjects(o, top)));
}

/** The clock that the figure of the screen shows: that of the bar, else the one that calls first. */
export function mainClock(running: RunningCase): Clock | null {
  const { clocks, offers } = running.view;
  const top = offers[0];
  const timed = clocks.filter((c) => c.kind === 'dwell' || c.kind === 'exposure');
  const own = timed.find(
    (c) => c.of === top?.step && c.subjects.some((s) => top?.subjects.includes(s)),
  );
  const ownLast = timed.filter((c) => c.of === top?.step).at(-1);
  const isOwn = top?.kind === 'end' || top?.kind === 'light-off';
  if (isOwn && own) return ownLast && top.subjects.length > 1 ? ownLast : own;
  const left = (c: Clock): number => (c.targetMs ?? c.maxMs ?? 0) - c.elapsed.loMs;
  const soonest = [...timed].sort((a, b) => left(a) - left(b))[0];
  return soonest ?? null;
}

/** Whether a clock belongs to what the heading names; if not, it must say whose it is. */
export function isOfTop(clock: Clock, running: RunningCase): boolean {
  const top = running.view.offers[0];
  return clock.of === top?.step && clock.subjects.some((s) => top.subjects.includes(s));
}

interface Grouped {
  readonly clock: Clock;
  readonly subjects: readonly string[];
  readonly level: 'calm' | 'closing' | 'broken';
  readonly leftMs: number;
}

const LEVEL_ORDER = { broken: 0, closing: 1, calm: 2 } as const;

/** Both may be -Infinity, where nobody knows how long it was. */
const byLeft = (a: Grouped, b: Grouped): number =>
  a.leftMs === b.leftMs ? 0 : a.leftMs - b.leftMs;

/** Windows of one kind stand as one row: the most pressing of them, for all its subjects. */
function groupWindows(clocks: readonly Clock[]): Grouped[] {
  const rows = clocks
    .map((clock) => ({
      clock,
      subjects: clock.subjects,
      level: clockLevel(clock, closingLeadMs(clock.maxMs ?? 0)),
      leftMs: (clock.maxMs ?? clock.minMs ?? 0) - clock.elapsed.hiMs,
    }))
    .sort((a, b) => LEVEL_ORDER[a.level] - LEVEL_ORDER[b.level] || byLeft(a, b));
  const groups = new Map<string, Grouped>();
  for (const row of rows) {
    // What is already outside its window keeps a row of its own, so that each alarm has its place.
    const key = row.level === 'broken' ? row.clock.id : row.clock.of;
    const first = groups.get(key);
    if (!first) groups.set(key, row);
    else
      groups.set(key, { ...first, subjects: [...new Set([...first.subjects, ...row.subjects])] });
  }
  return [...groups.values()];
}

/** The windows that are open, most pressing first. Dwells stand on their teeth in the arch. */
export function sideClocks(running: RunningCase, main: Clock | null): RunningClock[] {
  const naming = namingOf(running);
  const { gaps } = running.log.state;
  const isOnArch = (c: Clock): boolean => c.kind === 'dwell' && c.of === main?.of;
  const shown = running.view.clocks.filter((c) => c !== main && !isOnArch(c));
  return groupWindows(shown).map(({ clock, subjects, level }) => {
    const reason = intervalReason(clock, gaps);
    return {
      id: clock.id,
      label: clockLabel({ ...clock, subjects }, naming),
      level,
      times: clockTimes(clock),
      ...(reason === undefined ? {} : { reason }),
    };
  });
}

/** "Etch · step 18 of 41": where in the whole the present step stands. */
export function detailLine(running: RunningCase): string {
  const { protocol } = namingOf(running);
  const top = running.view.offers[0];
  const at = protocol.steps.findIndex((s) => s.id === top?.step);
  const step = protocol.steps[at];
  if (!step) return chairWords.stepsDone(protocol.steps.length);
  const stage = protocol.stages.find((s) => s.id === step.stage);
  return chairWords.stepOf({ stage: stage?.title ?? '', at: at + 1, of: protocol.steps.length });
}

export function headingOf(
  offer: Offer | undefined,
  naming: CaseNaming,
): { doing: string; subject?: string } {
  if (!offer) return { doing: chairWords.allDone };
  const step = stepOf(naming.protocol, offer.step);
  const subject = subjectsLabel(offer.subjects, naming.spec);
  return { doing: step?.title ?? offer.step, ...(subject === '' ? {} : { subject }) };
}

/** Mixes whose working time runs: what the sample bead is probed for. */
export function openMixes(running: RunningCase): string[] {
  const { state } = running.log;
  const { subjects } = layoutOf(state);
  const open = running.view.clocks
    .filter((c) => c.protects === 'working')
    .flatMap((c) => c.subjects.flatMap((s) => subjects.linked(s, 'mix')));
  const begun = layoutOf(state).instances.filter(
    (i) => i.step.per === 'mix' && state.runs[i.key]?.status === 'done',
  );
  const mixes = new Set(begun.map((i) => i.subject).filter((s) => open.includes(s)));
  return [...mixes];
}
