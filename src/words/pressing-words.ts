/** How a step is pressed, and how closely its limits are judged then, in words for the clinic lead. */
import {
  type Blur,
  type Judged,
  sweepWidthMs,
  type TouchedLimit,
} from '../protocol/how-closely.ts';
import type { Pressing, Protocol, SweepTime } from '../protocol/types.ts';
import { formatWords } from './duration.ts';
import { pressing } from './en/pressing.ts';
import { spoken } from './language.ts';

export const pressingWords = spoken('pressing', pressing);

/** A round that is easy to picture. */
const ROUND = 4;

function blurWords(blurs: readonly Blur[]): readonly string[] {
  const sweeps = blurs.filter((blur) => blur.kind === 'sweep');
  const over = (number: number): string =>
    formatWords(sweeps.reduce((ms, sweep) => ms + sweepWidthMs(sweep, number), 0));
  const others = blurs.flatMap((blur): readonly string[] => {
    switch (blur.kind) {
      case 'sweep':
        return [];
      case 'list':
        return [pressingWords.atList(blur.list)];
      case 'implied':
        return [pressingWords.implied(blur)];
      case 'paced':
        return [pressingWords.paced(formatWords(blur.changeMs))];
      default:
        return blur satisfies never;
    }
  });
  const swept =
    sweeps.length === 0 ? [] : [pressingWords.swept({ two: over(2), four: over(ROUND) })];
  return [...new Set([...swept, ...others])];
}

function limitWords({ title, minMs, maxMs }: TouchedLimit): string {
  const min = minMs === null ? '' : formatWords(minMs);
  const max = maxMs === null ? '' : formatWords(maxMs);
  const range =
    maxMs === null
      ? pressingWords.atLeast(min)
      : minMs === null
        ? pressingWords.atMost(max)
        : pressingWords.between({ min, max });
  return pressingWords.limit({ title, range });
}

export interface JudgedLine {
  readonly id: string;
  readonly words: string;
  readonly isLost: boolean;
}

/** One sentence for each limit, as it is judged with one press for each or as it is pressed. */
export function judgedLines(
  limits: readonly TouchedLimit[],
  way: 'each' | 'pressed',
): readonly JudgedLine[] {
  return limits.map((limit) => {
    const { blurs, roundMax, isLost }: Judged = limit[way];
    const id = `${limit.of} ${limit.id} ${limit.maxMs}`;
    const said = limitWords(limit);
    if (isLost) return { id, words: pressingWords.lost(said), isLost };
    const how = [
      ...(blurs.length === 0 ? [pressingWords.exact] : blurWords(blurs)),
      ...(roundMax === null ? [] : [pressingWords.rounds(roundMax)]),
    ];
    return {
      id,
      words: pressingWords.judged({ limit: said, how: pressingWords.and(how) }),
      isLost,
    };
  });
}

/** "3 s to 10 s" for one subject of a sweep. */
export const sweepWords = ({ shortestMs, longestMs }: SweepTime): string =>
  pressingWords.between({ min: formatWords(shortestMs.value), max: formatWords(longestMs.value) });

/** "a line of “Pause”", "said by “Seat”": how a step is pressed, for a difference. */
export function pressedNow(protocol: Protocol, pressed: Pressing | undefined): string {
  const titleOf = (id: string): string => protocol.steps.find((s) => s.id === id)?.title ?? id;
  switch (pressed?.kind) {
    case undefined:
      return pressingWords.ways.each;
    case 'list':
      return pressingWords.now.list(listTitle(protocol, pressed.list));
    case 'sweep':
      return pressingWords.and([
        ...(pressed.start ? [pressingWords.now.sweepStart(sweepWords(pressed.start))] : []),
        ...(pressed.end ? [pressingWords.now.sweepEnd(sweepWords(pressed.end))] : []),
      ]);
    case 'implied': {
      const isCoats = protocol.steps.some(
        (s) => s.pressed === pressed && pressed.by.includes(s.id),
      );
      return isCoats ? pressingWords.now.coats : pressingWords.now.implied(pressed.by.map(titleOf));
    }
    case 'paced': {
      const change = formatWords(pressed.changeMs.value);
      const { confirmedBy } = pressed;
      return confirmedBy === undefined
        ? pressingWords.now.paced(change)
        : pressingWords.now.pacedBy({ change, by: titleOf(confirmedBy) });
    }
    default:
      return pressed satisfies never;
  }
}

export const listTitle = ({ lists }: Protocol, id: string): string =>
  lists?.find((each) => each.id === id)?.title ?? id;
