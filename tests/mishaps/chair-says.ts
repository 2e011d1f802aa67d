/** The words of the chair's screen for one running case, as they are drawn, from top to bottom. */
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { atHand } from '../../src/ui/chair/at-hand-model.ts';
import {
  barModel,
  headingOf,
  nextOffer,
  nextWords,
  ownClock,
  watchedClocks,
  wayBackAtBar,
  wayWords,
} from '../../src/ui/chair/chair-model.ts';
import { firstLine } from '../../src/ui/chair/first-line.ts';
import { readClock, readRemaining } from '../../src/ui/parts/clock-reading.ts';
import type { RunningClock } from '../../src/ui/parts/WindowList.tsx';
import { archTeeth, namingOf } from '../../src/ui/shared/arch-model.ts';
import { cautionsInHand, shortForms } from '../../src/ui/shared/cautions-model.ts';
import { clockTimes } from '../../src/ui/shared/clock-times.ts';
import { atOnceWords, mishapWords } from '../../src/words/at-hand-words.ts';
import { clockLabel } from '../../src/words/clock-words.ts';
import { instructionOf } from '../../src/words/offer-words.ts';
import { subjectLabel } from '../../src/words/subject-words.ts';

/** Each line of the screen under the name that the tables give it. */
export interface ChairSays {
  readonly heading: string;
  readonly first: string;
  readonly says: string;
  readonly clock: string;
  readonly tooth: string;
  /** The other teeth, each with its word. */
  readonly others: string;
  /** Under the big teeth: where each is in its own chain. */
  readonly word: string;
  readonly watched: string;
  readonly bar: string;
  readonly when: string;
  readonly next: string;
  readonly answers: string;
  readonly tap: string;
  readonly care: string;
}

const plain = (words: string): string => words.replaceAll('\u00a0', ' ');

function watchedLine(clock: RunningClock): string {
  return `${clock.label} ${readRemaining(clock.times).figure}`;
}

function ownLine(running: RunningCase): string {
  const clock = ownClock(running);
  if (clock === null) return '';
  return `${clockLabel(clock, namingOf(running))} ${readClock(clockTimes(clock)).figure}`;
}

/** What happened and the ways on; the bar says the first of them. */
function answersLine(running: RunningCase): string {
  const { asked } = running.view.attention;
  const naming = namingOf(running);
  if (asked === null) return '';
  const because = atOnceWords.because[asked.because](subjectLabel(asked.subject, naming.spec));
  return [because, ...asked.ways.map((way) => wayWords(way, naming))].join(' | ');
}

/** The mishaps that stand by name, one tap from the bar. */
function tapLine(running: RunningCase): string {
  const { spec } = namingOf(running);
  return (atHand(running)?.mishaps ?? []).map((offer) => mishapWords(offer, spec)).join(' | ');
}

function nextLine(running: RunningCase): string {
  const next = nextOffer(running.view.offers);
  return next === undefined ? '' : nextWords(next, namingOf(running));
}

/** What the chair says; `''` where nothing of the kind is drawn. */
export function chairSays(running: RunningCase): ChairSays {
  const naming = namingOf(running);
  const { inHand } = running.view.attention;
  const { doing, subject } = headingOf(running);
  const model = barModel(running);
  const back = wayBackAtBar(running)?.wayBack.proposal;
  const instruction = back ?? (inHand === null ? '' : (instructionOf(inHand, naming) ?? ''));
  const own = ownLine(running);
  const big = archTeeth(running).filter((tooth) => tooth.active);
  const says = {
    heading: [doing, subject ?? ''].join(' ').trim(),
    // Where a clock of its own runs, its figure stands in the place of the instruction.
    first: own === '' ? (firstLine(running) ?? '') : '',
    says: own === '' ? instruction : '',
    clock: own,
    tooth: big.map(({ label }) => label).join(', '),
    others: archTeeth(running)
      .filter(({ active }) => !active)
      .map(({ label, word }) => `${label} ${word}`)
      .join(', '),
    word: big.map(({ word }) => word).join(', '),
    watched: watchedClocks(running).map(watchedLine).join(', '),
    bar: model?.words ?? '',
    when: model?.when ?? '',
    next: nextLine(running),
    answers: answersLine(running),
    tap: tapLine(running),
    care: shortForms(cautionsInHand(running)).join(' | '),
  };
  return Object.fromEntries(
    Object.entries(says).map(([k, v]) => [k, plain(v)]),
  ) as unknown as ChairSays;
}
