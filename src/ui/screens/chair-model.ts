/**
 * What the chair screen shows, worked out from the running case: the heading, the one clock that
 * matters, the arch, the bar. Pure, so that it can be tested without a screen.
 */
import { closingLeadMs } from '../../engine/cues.ts';
import type { Clock, Offer, ToothProgress } from '../../engine/types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { ArchTooth } from '../parts/Arch.tsx';
import type { Urgency } from '../parts/part-words.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { clockLabel, clockLevel, clockTimes, intervalReason } from '../words/clock-words.ts';
import { offerWhen, offerWords, type Scene, stepOf } from '../words/offer-words.ts';
import { subjectsLabel, toothLabel } from '../words/subject-words.ts';

export function sceneOf(running: RunningCase): Scene {
  const { spec, protocol } = running.log.state.opened;
  return { spec, protocol };
}

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

export function barModel(offer: Offer, scene: Scene): BarModel {
  return {
    offer,
    words: offerWords(offer, scene),
    when: offerWhen(offer),
    urgency: urgencyOf(offer),
  };
}

/** Other choices of the same question, or another way to end the same count. */
export function alternatives(offers: readonly Offer[]): readonly Offer[] {
  const top = offers[0];
  if (!top || (top.kind !== 'choose' && top.kind !== 'pass' && top.kind !== 'passes-done'))
    return [];
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

/** The remaining clocks, most pressing first. */
export function sideClocks(running: RunningCase, main: Clock | null): RunningClock[] {
  const scene = sceneOf(running);
  const { gaps } = running.log.state;
  const order = { broken: 0, closing: 1, calm: 2 } as const;
  return running.view.clocks
    .filter((c) => c !== main)
    .map((clock) => {
      const level = clockLevel(clock, closingLeadMs(clock.maxMs ?? 0));
      const leftMs = (clock.maxMs ?? clock.minMs ?? 0) - clock.elapsed.hiMs;
      const reason = intervalReason(clock, gaps);
      return { clock, level, leftMs, reason };
    })
    .sort((a, b) => order[a.level] - order[b.level] || a.leftMs - b.leftMs)
    .map(({ clock, level, reason }) => ({
      id: clock.id,
      label: clockLabel(clock, scene),
      level,
      times: clockTimes(clock),
      ...(reason === undefined ? {} : { reason }),
    }));
}

function toothWord(tooth: ToothProgress, running: RunningCase): string {
  const scene = sceneOf(running);
  const lit = tooth.surfaces.find((s) => s.state === 'running');
  if (lit) return lit.surface;
  if (tooth.state === 'done') return 'done';
  if (tooth.state === 'skipped') return 'skipped';
  const given = tooth.surfaces.filter((s) => s.state === 'done').length;
  if (given > 0) return `${given} of ${tooth.surfaces.length} lit`;
  const step = tooth.step ? stepOf(scene.protocol, tooth.step) : undefined;
  return step && (tooth.state === 'running' || tooth.state === 'active')
    ? step.title.toLowerCase()
    : 'waiting';
}

/** The teeth as the arch draws them. */
export function archTeeth(running: RunningCase): ArchTooth[] {
  const { spec } = sceneOf(running);
  const { clocks, offers, teeth } = running.view;
  const top = offers[0];
  const isSpecific = top !== undefined && top.subjects.length <= 2 && top.subjects[0] !== 'case';
  return teeth.map((tooth) => {
    const subjects = [`tooth:${tooth.tooth}`, `unit:${tooth.unit}`];
    const clock = clocks.find(
      (c) =>
        (c.kind === 'dwell' || c.kind === 'exposure') &&
        c.subjects.some((s) => subjects.includes(s)),
    );
    const isActive = isSpecific && (top?.subjects.some((s) => subjects.includes(s)) ?? false);
    return {
      id: tooth.tooth,
      label: toothLabel(tooth.tooth, spec.notation),
      word: toothWord(tooth, running),
      state: tooth.state,
      progress: tooth.total === 0 ? 0 : tooth.done / tooth.total,
      active: isActive,
      ...(clock ? { gauge: clockTimes(clock) } : {}),
      ...(tooth.surfaces.some((s) => s.state !== 'waiting')
        ? { surfaces: tooth.surfaces.map((s) => ({ id: s.surface, state: s.state })) }
        : {}),
    };
  });
}

/** "Round 1 of 2", "27 of 239 done". */
export function detailLine(running: RunningCase): string {
  const { done, total } = running.view;
  return `${done} of ${total} done`;
}

export function headingOf(
  offer: Offer | undefined,
  scene: Scene,
): { doing: string; subject?: string } {
  if (!offer) return { doing: 'All done' };
  const step = stepOf(scene.protocol, offer.step);
  const subject = subjectsLabel(offer.subjects, scene.spec);
  return { doing: step?.title ?? offer.step, ...(subject === '' ? {} : { subject }) };
}
