/** What an emergency card says of its times. Pure, so that it can be tested without a screen. */
import { closingLeadMs } from '../../engine/cues.ts';
import { type CardLine, type CardTime, cardLines } from '../../engine/emergency-cards.ts';
import type { Clock } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { OpenCard } from '../../runtime/emergency/emergency-state.ts';
import { clockLabel, clockLevel, intervalReason } from '../../words/clock-words.ts';
import { formatClockInterval, formatWords } from '../../words/duration.ts';
import { cardLineWords, emergencyWords } from '../../words/emergency-words.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';

interface Span {
  readonly loMs: number;
  readonly hiMs: number;
}

export interface LineModel {
  readonly id: string;
  readonly words: string;
  readonly isDone: boolean;
  /** What its button says; null once it is done and does not come round again. */
  readonly press: string | null;
  /** "3:12", since its last tap; for what comes round, since the card was opened before the first. */
  readonly figure: string | null;
  readonly notes: readonly string[];
  /** A named time has passed. */
  readonly isPassed: boolean;
  readonly asksPoisonCentre: boolean;
}

function timeNotes(
  time: CardTime,
  span: Span,
): { readonly notes: string[]; readonly isPassed: boolean } {
  if (time.kind === 'every') {
    const every = formatWords(time.everyMs);
    const isPassed = span.loMs >= time.everyMs;
    const note = isPassed ? emergencyWords.dueAgain(every) : emergencyWords.every(every);
    return { notes: [note], isPassed };
  }
  // What has certainly passed: a rinse is told by its shortest length.
  const passed = time.namedMs.filter((ms) => span.loMs >= ms).at(-1);
  return {
    notes: [
      emergencyWords.named(time.namedMs.map((ms) => formatWords(ms))),
      ...(passed === undefined ? [] : [emergencyWords.namedPassed(formatWords(passed))]),
    ],
    isPassed: passed !== undefined,
  };
}

const clockOf = ({ loMs, hiMs }: Span): string => formatClockInterval({ loMs, hiMs });

function lineModel(
  line: CardLine,
  open: OpenCard,
  since: (stamp: OpenCard['stamp']) => Span,
): LineModel {
  const ticks = open.done.filter((d) => d.line === line.id);
  const last = ticks.at(-1);
  const { time } = line;
  const base = {
    id: line.id,
    words: cardLineWords(open.card, line.id),
    isDone: last !== undefined,
    asksPoisonCentre: line.asksPoisonCentre === true,
  };
  if (time === undefined) {
    return {
      ...base,
      press: last === undefined ? emergencyWords.done : null,
      figure: null,
      notes: last === undefined ? [] : [doneAt(open, last.stamp, since)],
      isPassed: false,
    };
  }
  const from = last?.stamp ?? (time.kind === 'every' ? open.stamp : null);
  const span = from === null ? { loMs: 0, hiMs: 0 } : since(from);
  const { notes, isPassed } = timeNotes(time, span);
  const rounds = time.kind === 'every' && ticks.length > 0;
  const again = time.kind === 'every' ? emergencyWords.again : null;
  const first = time.kind === 'every' ? emergencyWords.doneNow : emergencyWords.starts;
  return {
    ...base,
    press: last === undefined ? first : again,
    figure: from === null ? null : clockOf(span),
    notes: [...notes, ...(rounds ? [emergencyWords.rounds(ticks.length)] : [])],
    isPassed,
  };
}

/** How long after the tap on the card a line was ticked, by what is known now of both. */
function doneAt(
  open: OpenCard,
  stamp: OpenCard['stamp'],
  since: (stamp: OpenCard['stamp']) => Span,
): string {
  const ms = Math.max(0, since(open.stamp).loMs - since(stamp).loMs);
  return emergencyWords.doneAt(clockOf({ loMs: ms, hiMs: ms }));
}

/** The lines of a card as they stand now. */
export function cardModel(
  open: OpenCard,
  since: (stamp: OpenCard['stamp']) => Span,
): readonly LineModel[] {
  return cardLines(open.card).map((line) => lineModel(line, open, since));
}

/** As many clocks of the case as stay readable beside a card. */
const CLOCKS_MAX = 4;
const LEVELS = { broken: 0, closing: 1, calm: 2 } as const;

/** The clocks of the running case that press most: they run on beneath the card. */
export function caseClocks(running: RunningCase): readonly RunningClock[] {
  const naming = namingOf(running);
  const leftMs = (c: Clock): number => (c.maxMs ?? c.targetMs ?? c.minMs ?? 0) - c.elapsed.hiMs;
  return running.view.clocks
    .map((clock) => ({ clock, level: clockLevel(clock, closingLeadMs(clock.maxMs ?? 0)) }))
    .toSorted((a, b) => LEVELS[a.level] - LEVELS[b.level] || leftMs(a.clock) - leftMs(b.clock))
    .slice(0, CLOCKS_MAX)
    .map(({ clock, level }) => {
      const reason = intervalReason(clock, running.log.state.gaps);
      return {
        id: clock.id,
        label: clockLabel(clock, naming),
        level,
        times: clockTimes(clock),
        ...(reason === undefined ? {} : { reason }),
      };
    });
}
