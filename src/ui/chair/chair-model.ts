/**
 * What the chair screen shows, worked out from the running case: the heading, the one clock that
 * matters, the arch, the bar. Pure, so that it can be tested without a screen.
 */

import { closingLeadMs } from '../../engine/cues.ts';
import { layoutOf } from '../../engine/layout.ts';
import type { Clock, Offer } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import {
  cementLabel,
  cementLeft,
  clockLabel,
  clockLevel,
  intervalReason,
} from '../../words/clock-words.ts';
import type { Urgency } from '../../words/codes.ts';
import { offerWhen, offerWords, stepOf } from '../../words/offer-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
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

/** The running clock of what is in hand: its number is the giant one. Null where that has none. */
export function ownClock(running: RunningCase): Clock | null {
  return running.view.attention.own;
}

function told(clock: Clock, running: RunningCase, later = 0): RunningClock {
  const reason = intervalReason(clock, running.log.state.gaps);
  return {
    id: clock.id,
    label: clockLabel(clock, namingOf(running), later),
    level: clockLevel(clock, closingLeadMs(clock.maxMs ?? 0)),
    times: clockTimes(clock),
    ...(reason === undefined ? {} : { reason }),
  };
}

/** What is watched beside what is in hand, and the working time while cement is out: drawn large. */
export function watchedClocks(running: RunningCase): RunningClock[] {
  const { own, watched, working } = running.view.attention;
  const beside = new Set([watched, working].filter((c) => c !== null && c !== own));
  const { subjects } = layoutOf(running.log.state);
  return [...beside].flatMap((clock) => {
    if (clock === null) return [];
    const row = told(clock, running);
    if (clock !== working) return [row];
    // Cement is called by its portion: it is one clock for all the units that wait for it.
    const mixes = [...new Set(clock.subjects.flatMap((s) => subjects.linked(s, 'mix')))];
    const label = cementLabel(subjectsLabel(mixes, namingOf(running).spec));
    return [row.level === 'broken' ? { ...row, label } : { ...row, label, words: cementLeft }];
  });
}

/**
 * The other clocks, most pressing first. Those of one window share a row while none is near its limit: the
 * row is that of the first, and says how many are later. Dwells stand on their teeth in the arch.
 */
export function sideClocks(running: RunningCase): RunningClock[] {
  const { own, watched, inHand, quiet } = running.view.attention;
  const onArch = [own?.of, watched?.of, inHand?.step];
  const rows = new Map<string, { clock: Clock; later: number }>();
  for (const clock of quiet) {
    if (clock.kind === 'dwell' && onArch.includes(clock.of)) continue;
    const level = clockLevel(clock, closingLeadMs(clock.maxMs ?? 0));
    const key = level === 'calm' ? clock.of : clock.id;
    const first = rows.get(key);
    if (first) rows.set(key, { ...first, later: first.later + clock.subjects.length });
    else rows.set(key, { clock, later: 0 });
  }
  return [...rows.values()].map(({ clock, later }) => told(clock, running, later));
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
