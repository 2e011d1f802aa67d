/** The teeth of a running case as the arch draws them, in the numbering of the case. */
import { elapsed } from '../../engine/axis.ts';
import { instanceKey, layoutOf } from '../../engine/layout.ts';
import type { ToothProgress } from '../../engine/progress-types.ts';
import type { Clock } from '../../engine/view-types.ts';
import { waysInHand } from '../../engine/way-in-hand.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { formatSeconds, formatSecondsInterval } from '../../words/duration.ts';
import { stepOf } from '../../words/offer-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { surfaceOn, toothLabel } from '../../words/subject-words.ts';
import type { ArchTooth } from '../parts/Arch.tsx';
import { clockTimes } from './clock-times.ts';

type Opened = RunningCase['log']['state']['opened'];

const namings = new WeakMap<Opened, CaseNaming>();

/**
 * The case as it is read on the screens: its numbering is its own, whoever presses. The same object until
 * that changes: every part of the screen asks at every picture.
 */
export function namingOf({ log }: Pick<RunningCase, 'log'>): CaseNaming {
  const { opened, notation } = log.state;
  const known = namings.get(opened);
  if (known?.spec.notation === notation) return known;
  const { spec, protocol } = opened;
  const naming = { spec: { ...spec, notation }, protocol };
  namings.set(opened, naming);
  return naming;
}

/** Seconds to the target of a running dwell, or past its limit: "17 s", "6 s over". */
function dwellWord(clock: Clock): string {
  const { elapsed, maxMs, targetMs } = clock;
  if (maxMs !== null && elapsed.hiMs > maxMs) {
    // Where it only may be over, nothing says by how much.
    const isCertain = Number.isFinite(elapsed.hiMs) && elapsed.loMs > maxMs;
    if (!isCertain) return chairWords.tooth.perhapsOver;
    const [loMs, hiMs] = [elapsed.loMs - maxMs, elapsed.hiMs - maxMs];
    return chairWords.tooth.over(formatSecondsInterval({ loMs, hiMs, rounding: 'up' }));
  }
  const leftMs = (targetMs ?? 0) - elapsed.loMs;
  if (leftMs > 0) return formatSeconds(leftMs, 'up');
  return leftMs === 0 ? chairWords.tooth.due : chairWords.tooth.past(formatSeconds(-leftMs, 'up'));
}

/** What a way back asks for a tooth or its unit while others are in hand: "Find it". */
function askedAfterMishap({ tooth, unit }: ToothProgress, running: RunningCase): string | null {
  const { state } = running.log;
  const own = [`tooth:${tooth}`, `unit:${unit}`];
  const ways = waysInHand(state, layoutOf(state)).filter(({ hasVoided }) => hasVoided);
  if (!ways.some(({ subjects }) => subjects.some((each) => own.includes(each)))) return null;
  const offer = running.view.offers.find(({ subjects }) => subjects.some((s) => own.includes(s)));
  return offer === undefined
    ? null
    : (stepOf(namingOf(running).protocol, offer.step)?.title ?? null);
}

/** Tones have led over it, and nobody has said yet that it was lit. */
const isLed = ({ tooth, unit }: ToothProgress, { view }: RunningCase): boolean =>
  view.pass?.places.some(
    ({ state, subject }) =>
      state === 'led' && (subject === `tooth:${tooth}` || subject === `unit:${unit}`),
  ) === true;

function toothWord(tooth: ToothProgress, running: RunningCase, clock: Clock | undefined): string {
  const naming = namingOf(running);
  if (clock?.kind === 'dwell') return dwellWord(clock);
  const lit = tooth.surfaces.find((s) => s.state === 'running');
  if (lit) return surfaceOn(lit.surface, [tooth.tooth]);
  if (isLed(tooth, running)) return chairWords.tooth.paced;
  if (tooth.state === 'done') return chairWords.tooth.done;
  if (tooth.state === 'skipped') return chairWords.tooth.skipped;
  const given = tooth.surfaces.filter((s) => s.state === 'done').length;
  if (given > 0) return chairWords.tooth.exposed({ given, of: tooth.surfaces.length });
  const step = tooth.step ? stepOf(naming.protocol, tooth.step) : undefined;
  if (step && (tooth.state === 'running' || tooth.state === 'active')) return step.title;
  const asked = askedAfterMishap(tooth, running);
  if (asked !== null) return asked;
  // Where it is in its own chain: two states that differ are never one word.
  const reached = tooth.reached ? stepOf(naming.protocol, tooth.reached) : undefined;
  return reached?.words?.leaves ?? chairWords.tooth.waiting;
}

/** What runs on a tooth; of a round that one press began, its own time and not that of the whole round. */
function clockOn(running: RunningCase, subjects: readonly string[]): Clock | undefined {
  const { clocks, at } = running.view;
  const clock = clocks.find(
    (c) =>
      (c.kind === 'dwell' || c.kind === 'exposure') && c.subjects.some((s) => subjects.includes(s)),
  );
  if (clock?.isSpread !== true || clock.kind !== 'dwell') return clock;
  const subject = clock.subjects.find((s) => subjects.includes(s)) ?? '';
  const since = running.log.state.runs[instanceKey(clock.of, subject)]?.startedAt;
  return since ? { ...clock, elapsed: elapsed(since, at) } : clock;
}

/** The teeth as the arch draws them. */
export function archTeeth(running: RunningCase): ArchTooth[] {
  const { spec } = namingOf(running);
  const { attention, teeth } = running.view;
  // Of a pass of light the place to which its tones lead is the one in hand.
  const top = attention.own?.paced === true ? attention.own : attention.inHand;
  const isSpecific = top !== null && top.subjects.length <= 2 && top.subjects[0] !== 'case';
  return teeth.map((tooth) => {
    const subjects = [`tooth:${tooth.tooth}`, `unit:${tooth.unit}`];
    const clock = clockOn(running, subjects);
    const isActive = isSpecific && (top?.subjects.some((s) => subjects.includes(s)) ?? false);
    return {
      id: tooth.tooth,
      label: toothLabel(tooth.tooth, spec.notation),
      word: toothWord(tooth, running, clock),
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
