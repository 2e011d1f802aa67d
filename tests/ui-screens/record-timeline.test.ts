/**
 * Where windows lie in the picture of a record, what is drawn last, and what is said beside it.
 * Expected places and lengths are counted by hand from the rows.
 */
import { describe, expect, it } from 'vitest';
import type { DoneMark, RecordTimeline, WindowGauge } from '../../src/export/record-timeline.ts';
import { marksOf, placeOf } from '../../src/ui/parts/TimePicture.tsx';
import {
  doneToMs,
  idleCuts,
  inDrawingOrder,
  linesOf,
  placedGauges,
  plannedLines,
} from '../../src/ui/record/picture/record-timeline-model.ts';
import {
  cutWords,
  laterWords,
  spanWords,
  tookWords,
} from '../../src/words/record-timeline-words.ts';

const MIN = 60_000;
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

const gauge = (
  fromMin: number,
  o: { readonly toMin?: number; readonly maxMin?: number },
): WindowGauge => ({
  id: `${fromMin}`,
  window: 'w',
  title: 'Window',
  subjects: ['tooth:11'],
  fromMs: fromMin * MIN,
  to: o.toMin === undefined ? null : { loMs: o.toMin * MIN, hiMs: o.toMin * MIN },
  tookMs: o.toMin === undefined ? null : (o.toMin - fromMin) * MIN,
  minMs: null,
  maxMs: o.maxMin === undefined ? null : o.maxMin * MIN,
  state: 'kept',
});

describe('windows that run at the same time', () => {
  it('lie on lines of their own; a line is used again once its vessel has ended', () => {
    const placed = placedGauges(
      [
        gauge(0, { toMin: 2, maxMin: 5 }),
        gauge(1, { toMin: 2, maxMin: 5 }),
        gauge(5, { toMin: 6, maxMin: 2 }),
      ],
      60 * MIN,
    );
    expect(placed.map((p) => p.line)).toEqual([0, 1, 0]);
    expect(linesOf(placed)).toBe(2);
  });

  it('are filled to their close, and the vessel is cut where the picture ends', () => {
    const [kept, over, open] = placedGauges(
      [
        gauge(0, { toMin: 2, maxMin: 5 }),
        gauge(0, { toMin: 7, maxMin: 5 }),
        gauge(8, { maxMin: 60 }),
      ],
      10 * MIN,
    );
    expect([kept?.filledMs, kept?.rimMs, kept?.isCut]).toEqual([2 * MIN, 5 * MIN, false]);
    expect([over?.filledMs, over?.rimMs]).toEqual([7 * MIN, 5 * MIN]);
    expect([open?.filledMs, open?.rimMs, open?.isCut]).toEqual([10 * MIN, 10 * MIN, true]);
  });
});

it('what lies behind a gap is drawn as long as it was, not as wide as its instants are known', () => {
  const gauge: WindowGauge = {
    id: 'a',
    window: 'w',
    title: 'w',
    subjects: [],
    fromMs: 2 * MIN,
    // Both ends lie behind a gap of 2 min: each is known to 2 min only, the length between them exactly.
    to: { loMs: 3 * MIN, hiMs: 5 * MIN },
    tookMs: 1 * MIN,
    minMs: null,
    maxMs: 2 * MIN,
    state: 'kept',
  };
  const [placed] = placedGauges([gauge], 10 * MIN);
  expect([placed?.filledMs, placed?.rimMs]).toEqual([3 * MIN, 4 * MIN]);
  const light: DoneMark = {
    id: 'l',
    step: 's',
    subjects: [],
    kind: 'light',
    from: { loMs: 2 * MIN, hiMs: 4 * MIN },
    to: { loMs: 3 * MIN, hiMs: 5 * MIN },
    took: { loMs: 1 * MIN, hiMs: 1 * MIN },
    isBroken: false,
    isPerhaps: false,
    isVoided: false,
  };
  expect(doneToMs(light)).toBe(3 * MIN);
});

it('nothing covers what was not kept', () => {
  const mark = (id: string, o: Partial<DoneMark>): DoneMark => ({
    id,
    step: 's',
    subjects: [],
    kind: 'span',
    from: { loMs: 0, hiMs: 0 },
    to: { loMs: 1, hiMs: 1 },
    took: { loMs: 1, hiMs: 1 },
    isBroken: false,
    isPerhaps: false,
    isVoided: false,
    ...o,
  });
  const all = [
    mark('over', { isBroken: true }),
    mark('void', { isVoided: true }),
    mark('done', {}),
  ];
  expect(inDrawingOrder(all).map((m) => m.id)).toEqual(['done', 'void', 'over']);
});

describe('the axis', () => {
  it.each([1, 7, 65, 90, 240, 1500, 9000])('of %d min has marks that can be read', (minutes) => {
    const scale = { startMs: 0, endMs: minutes * MIN };
    const marks = marksOf(scale);
    expect(marks.length).toBeGreaterThan(1);
    expect(marks.length).toBeLessThanOrEqual(13);
    expect(marks[0]).toBe(0);
    expect(Math.max(...marks)).toBeLessThanOrEqual(scale.endMs);
  });

  it('puts the middle in the middle', () => {
    expect(placeOf(30 * MIN, { startMs: 10 * MIN, endMs: 50 * MIN })).toBe(50);
  });
});

describe('words beside the picture', () => {
  it.each([
    [
      { plannedEndMs: 58 * MIN, doneEndMs: 64 * MIN },
      true,
      'Planned 58 min, took 1 h 4 min: 6 min longer.',
    ],
    [
      { plannedEndMs: 73 * MIN, doneEndMs: 65 * MIN },
      true,
      'Planned 1 h 13 min, took 1 h 5 min: 8 min shorter.',
    ],
    [{ plannedEndMs: 60 * MIN, doneEndMs: 60.4 * MIN }, true, 'Planned 1 h, took as long.'],
    [{ plannedEndMs: 60 * MIN, doneEndMs: 10 * MIN }, false, 'Planned 1 h, so far 10 min.'],
    [{ plannedEndMs: null, doneEndMs: 10 * MIN }, true, 'Took 10 min.'],
    [{ plannedEndMs: null, doneEndMs: 10 * MIN }, false, 'So far 10 min.'],
  ] as const)('%o', (picture, isClosed, words) => {
    expect(plain(tookWords(picture, isClosed))).toBe(words);
  });

  it('tell spans and differences', () => {
    expect(spanWords({ fromMs: 65_000, toMs: 130_000 })).toBe('1:05 to 2:10');
    expect(spanWords({ fromMs: 65_000, toMs: 65_400 })).toBe('1:05');
    expect(spanWords(null)).toBe('');
    expect(plain(laterWords(125_000))).toBe('2 min 5 s later');
    expect(plain(laterWords(-3000))).toBe('3 s earlier');
    expect(laterWords(400)).toBe('as planned');
  });
});

describe('an axis that is cut', () => {
  const bar = (fromMin: number, toMin: number): DoneMark => ({
    id: `${fromMin}`,
    step: 's',
    subjects: [],
    kind: 'span',
    from: { loMs: fromMin * MIN, hiMs: fromMin * MIN },
    to: { loMs: toMin * MIN, hiMs: toMin * MIN },
    took: { loMs: (toMin - fromMin) * MIN, hiMs: (toMin - fromMin) * MIN },
    isBroken: false,
    isPerhaps: false,
    isVoided: false,
  });
  const pictureOf = (marks: readonly DoneMark[], endMin: number): RecordTimeline => ({
    endMs: endMin * MIN,
    plannedEndMs: null,
    doneEndMs: endMin * MIN,
    lanes: [{ id: 'dentist', kind: 'person', marks, gauges: [], planned: [], plannedWindows: [] }],
    windows: [],
    plannedWindows: {},
    changes: [],
    gaps: [],
    compared: [],
  });

  it('where nothing happened for hours, and only there', () => {
    // Work until 40 min, then nothing for ten hours, then 20 min more.
    const left = pictureOf([bar(0, 40), bar(640, 660)], 660);
    expect(idleCuts(left)).toEqual([{ fromMs: 40 * MIN, toMs: 640 * MIN }]);
    // A wait of half an hour is part of the work; an hour and a minute of eight is not in the way.
    expect(idleCuts(pictureOf([bar(0, 40), bar(70, 90)], 90))).toEqual([]);
    const long = Array.from({ length: 16 }, (_, i) => bar(i * 30, i * 30 + 29));
    expect(idleCuts(pictureOf([...long, bar(540, 560)], 560))).toEqual([]);
  });

  it('also within what ran on unattended: only its ends are events', () => {
    const [cut] = idleCuts(pictureOf([bar(0, 30), bar(30, 630), bar(630, 640)], 640));
    expect(cut).toEqual({ fromMs: 30 * MIN, toMs: 630 * MIN });
  });

  it('gives the rest its room: what is cut takes 4 parts beside 100', () => {
    const scale = {
      startMs: 0,
      endMs: 660 * MIN,
      cuts: [{ fromMs: 40 * MIN, toMs: 640 * MIN }],
    };
    // 60 min are drawn, and 2.4 min for the cut: 62.4 in all.
    expect(placeOf(40 * MIN, scale)).toBeCloseTo((40 / 62.4) * 100, 2);
    expect(placeOf(640 * MIN, scale)).toBeCloseTo((42.4 / 62.4) * 100, 2);
    expect(placeOf(340 * MIN, scale)).toBeCloseTo((41.2 / 62.4) * 100, 2);
    expect(placeOf(660 * MIN, scale)).toBe(100);
    expect(marksOf(scale).every((ms) => ms <= 40 * MIN || ms >= 640 * MIN)).toBe(true);
    expect(marksOf(scale).length).toBeGreaterThan(5);
  });

  it('is told with how long it is', () => {
    expect(plain(cutWords([600 * MIN]))).toBe('The axis is cut where nothing happened, for 10 h.');
  });
});

it('planned windows that overlap lie on lines of their own', () => {
  const window = (fromMs: number, toMs: number) => ({ id: `${fromMs}`, fromMs, toMs });
  const placed = plannedLines([window(0, 5), window(2, 6), window(5, 7)]);
  expect(placed.map((p) => p.line)).toEqual([0, 1, 0]);
});
