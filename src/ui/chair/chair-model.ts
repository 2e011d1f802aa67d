/**
 * What the chair screen shows, worked out from the running case: the heading, the one clock that
 * matters, the arch, the bar. Pure, so that it can be tested without a screen.
 */

import { isExact } from '../../engine/axis.ts';
import { closingLeadMs } from '../../engine/cues.ts';
import { gapInDoubt } from '../../engine/gap-in-doubt.ts';
import { layoutOf } from '../../engine/layout.ts';
import { takenLines } from '../../engine/list-draft.ts';
import { takenNow } from '../../engine/list-offers.ts';
import { readBackLines } from '../../engine/read-back.ts';
import type { Clock, Offer, WayOn } from '../../engine/view-types.ts';
import { scopeOf } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { atOnceWords } from '../../words/at-hand-words.ts';
import { chairWords } from '../../words/chair-words.ts';
import {
  cementLabel,
  cementLeft,
  clockLabel,
  clockLevel,
  intervalReason,
  ledPlace,
  passWhere,
} from '../../words/clock-words.ts';
import type { Urgency } from '../../words/codes.ts';
import { offerWhen } from '../../words/offer-when-words.ts';
import {
  doneWords,
  listPressWords,
  listTitle,
  offerWords,
  stepOf,
  unanswered,
  withoutLots,
} from '../../words/offer-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { subjectLabel, subjectsLabel } from '../../words/subject-words.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';

export interface BarModel {
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

export function offerModel(offer: Offer, naming: CaseNaming): BarModel {
  return {
    words: offerWords(offer, naming),
    when: offerWhen(offer),
    urgency: urgencyOf(offer),
  };
}

/** What a way on does, in the words of a press: "Start portion 1 again". */
export function wayWords(way: WayOn, naming: CaseNaming): string {
  if (way.kind === 'go-on') return offerWords(way.offer, naming);
  const [subject] = way.subjects;
  const isMix = subject !== undefined && scopeOf(subject) === 'mix';
  const words = isMix ? atOnceWords.again(subjectLabel(subject, naming.spec)) : way.wayBack.title;
  return way.done === undefined
    ? words
    : atOnceWords.ifDone({ words, done: doneWords(way.done, naming) });
}

/** The way back that stands at the bar as the likeliest answer; null where something else does. */
export function wayBackAtBar(running: RunningCase): Extract<WayOn, { kind: 'way-back' }> | null {
  const [way] = running.view.attention.asked?.ways ?? [];
  return way?.kind === 'way-back' ? way : null;
}

/** The list that is in hand; null where something else is. */
export function listInHand({ view }: RunningCase): Offer | null {
  const { inHand } = view.attention;
  return inHand?.kind === 'list' ? inHand : null;
}

/** Of how many materials no lot is named, where the bar says that they were read with these steps. */
function lotsNotNamed(running: RunningCase, steps: readonly string[]): number {
  const { protocol } = namingOf(running);
  const isRead = steps.some((id) => {
    const action = stepOf(protocol, id)?.action;
    const evidence = action?.kind === 'confirm' ? action.evidence : undefined;
    return evidence?.kind === 'read-back' && evidence.of === 'materials';
  });
  if (!isRead) return 0;
  const at = { now: running.view.at, subjects: [] };
  const lines = readBackLines(running.log.state, 'materials', at);
  return lines.filter((line) => line.code === 'slot' && line.lot === null).length;
}

/** The lines that a press of the list takes: what an open line holds back is not among them. */
export function takenOfList({ log, view, answers }: RunningCase, { lines = [] }: Offer) {
  return takenNow(log.state, view.at, takenLines(lines, answers));
}

/** What a press of the list takes of it, and what stays due. */
function listModel(running: RunningCase, list: Offer): BarModel {
  const naming = namingOf(running);
  const taken = takenOfList(running, list);
  const lots = lotsNotNamed(
    running,
    taken.map(({ step }) => step),
  );
  const { words, left } = listPressWords(list, naming, { taken, lots });
  const model = offerModel(list, naming);
  return { ...model, words, when: left ?? model.when };
}

/** What the bar says; null where nothing can be pressed. */
export function barModel(running: RunningCase): BarModel | null {
  const naming = namingOf(running);
  const { asked, inHand } = running.view.attention;
  const [way] = asked?.ways ?? [];
  if (way !== undefined) {
    return { words: wayWords(way, naming), when: atOnceWords.title, urgency: 'over' };
  }
  if (inHand === null) return null;
  if (inHand.kind === 'list') return listModel(running, inHand);
  const model = offerModel(inHand, naming);
  const lots = lotsNotNamed(running, [inHand.step]);
  if (lots > 0) return { ...model, words: withoutLots(model.words, lots) };
  const missing = running.typed === inHand.step ? null : unanswered(inHand, naming);
  return missing === null ? model : { ...model, words: missing };
}

/** Whether what the bar waited for in one picture has become due in the next, and nothing was pressed. */
export function hasTurned(before: RunningCase, now: RunningCase): boolean {
  if (before.log !== now.log) return false;
  const [was, is] = [before.view.attention, now.view.attention].map(({ inHand }) => inHand);
  if (before.view.attention.asked?.because !== now.view.attention.asked?.because) return true;
  if (!was || !is) return false;
  return was.dueInMs > 0 && is.dueInMs <= 0;
}

/** Other choices of the same question, or another way to end the same count. */
export function alternatives(offers: readonly Offer[]): readonly Offer[] {
  const top = offers[0];
  if (top?.resumes === true || top?.confirms)
    return offers.filter(({ kind }) => kind === 'pass-confirm');
  const many: readonly Offer['kind'][] = ['choose', 'pass', 'all-passes', 'passes-done'];
  if (!top || !many.includes(top.kind)) return [];
  return offers.slice(1).filter((o) => o.step === top.step && sameSubjects(o, top));
}

const sameSubjects = (a: Offer, b: Offer): boolean => a.subjects.join() === b.subjects.join();

/** The first offer after the top one that is another thing to do, and that no other press will say. */
export function nextOffer(offers: readonly Offer[]): Offer | undefined {
  const top = offers[0];
  const isSaid = ({ step, subjects }: Offer): boolean =>
    offers.some(({ implies = [] }) =>
      implies.some((o) => o.step === step && subjects.every((s) => o.subjects.includes(s))),
    );
  return offers.slice(1).find((o) => {
    if (!top || o.kind === 'pass-confirm') return false;
    return !(o.step === top.step && sameSubjects(o, top)) && !isSaid(o);
  });
}

/** What comes next, named by its step where one of several answers is wanted. */
export function nextWords(offer: Offer, naming: CaseNaming): string {
  if (offer.kind !== 'choose') return offerWords(offer, naming);
  const title = stepOf(naming.protocol, offer.step)?.title ?? offer.step;
  return [title, subjectsLabel(offer.subjects, naming.spec)].join(' ').trim();
}

/** The running clock of what is in hand: its number is the giant one. Null where that has none. */
export function ownClock(running: RunningCase): Clock | null {
  return running.view.attention.own;
}

/** How far the pass of light is, under its clock; undefined where the clock is another. */
export function passAt({ view }: RunningCase): string | undefined {
  const { own } = view.attention;
  const places = view.pass?.places ?? [];
  if (own?.paced !== true) return undefined;
  const at = places.findIndex(({ state }) => state !== 'led') + 1;
  return passWhere(own, { at, of: places.length });
}

function told(clock: Clock, running: RunningCase, later = 0): RunningClock {
  // Among the small ones only what can be mended is told.
  const reason = clock.isSpread ? undefined : intervalReason(clock, running.log.state.gaps);
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
    return [row.level === 'broken' ? { ...row, label } : { ...row, label, words: cementLeft() }];
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
export function detailLine(running: RunningCase): string | undefined {
  const { protocol } = namingOf(running);
  if (wayBackAtBar(running) !== null) return atOnceWords.title;
  const top = running.view.attention.inHand;
  const at = protocol.steps.findIndex((s) => s.id === top?.step);
  const step = protocol.steps[at];
  if (!step) return hasSkipped(running) ? undefined : chairWords.stepsDone(protocol.steps.length);
  const stage = protocol.stages.find((s) => s.id === step.stage);
  // A list is no step: its lines stand below.
  if (top?.kind === 'list') return stage?.title;
  return chairWords.stepOf({ stage: stage?.title ?? '', at: at + 1, of: protocol.steps.length });
}

interface HeadingModel {
  readonly doing: string;
  readonly subject?: string;
}

const hasSkipped = ({ log }: RunningCase): boolean =>
  Object.values(log.state.runs).some(({ status }) => status === 'skipped');

/** What was skipped is not called done. */
function nothingLeft(running: RunningCase): string {
  if (running.log.state.closed !== null) return chairWords.closed;
  return hasSkipped(running) ? chairWords.noneLeft : chairWords.allDone;
}

/** What is in hand and for whom: the step, or the way back that stands at the bar. */
export function headingOf(running: RunningCase): HeadingModel {
  const naming = namingOf(running);
  const { inHand } = running.view.attention;
  const back = wayBackAtBar(running);
  if (back === null && inHand === null) {
    return { doing: nothingLeft(running) };
  }
  const step = inHand === null ? undefined : stepOf(naming.protocol, inHand.step);
  const list = back === null && inHand?.kind === 'list' ? listTitle(inHand, naming) : null;
  if (list !== null) return { doing: list };
  const isOfMix = back?.wayBack.per === 'mix';
  const title = isOfMix ? atOnceWords.againTitle : back?.wayBack.title;
  const doing = title ?? step?.title ?? inHand?.step ?? '';
  const { own } = running.view.attention;
  const subject =
    own?.paced === true
      ? ledPlace(own, naming)
      : subjectsLabel(back?.subjects ?? inHand?.subjects ?? [], naming.spec);
  return { doing, ...(subject === '' ? {} : { subject }) };
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

/**
 * How long the case was without a tablet is to be said by people, above the bar: until they do, every limit over
 * it counts as passed.
 */
export function isHandOverAsked({ log, view, isViewOnly }: RunningCase): boolean {
  const gap = gapInDoubt(log.state.gaps);
  const isOpen = gap?.cause === 'other-tablet' && gap.untrusted;
  return isOpen && !isViewOnly && view.clocks.some((c) => !isExact(c.elapsed));
}
