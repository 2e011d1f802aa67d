/** The light log as it is shown: trends as a picture, a reading while it is typed. Pure. */

import { BASELINE_FALL_CAUTION_PERCENT } from '../../../calc/light-cautions.ts';
import type { LightTrend, TrendPoint } from '../../../runtime/stock/stock-light.ts';
import type { LightReading } from '../../../runtime/stock/stock-types.ts';
import type { Times } from '../../../words/date-words.ts';
import { lightWords } from '../../../words/light-log-words.ts';
import { formatQuantity } from '../../../words/number.ts';

/** The picture is drawn in these units and scaled by the page. */
export const CHART = { width: 720, height: 260, left: 64, right: 24, top: 20, bottom: 36 } as const;
const TOP_PERCENT_MIN = 10;
const LOW_PERCENT_MAX = -30;
const STEP_PERCENT = 10;

interface ChartPoint {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly isBaseline: boolean;
  readonly words: string;
}

export interface Chart {
  readonly points: readonly ChartPoint[];
  readonly path: string;
  readonly lines: readonly {
    readonly percent: number;
    readonly y: number;
    readonly label: string;
    readonly kind: 'baseline' | 'fall' | 'plain';
  }[];
  readonly days: readonly { readonly x: number; readonly label: string; readonly isEnd: boolean }[];
}

/** `+4 %`, `−12 %`, `0 %`. */
export function changeWords(percent: number): string {
  const rounded = Math.round(percent * 10) / 10;
  const digits = Number.isInteger(rounded) ? 0 : 1;
  const words = formatQuantity({ value: rounded, unit: '%', digits });
  return rounded > 0 ? lightWords.rise(words) : words;
}

export const valueWords = (reading: LightReading): string =>
  formatQuantity({ value: reading.irradianceMwPerCm2, unit: 'mW/cm²', digits: 0 });

const pointWords = ({ reading, changePercent }: TrendPoint, times: Times): string =>
  lightWords.point({
    on: times.date(reading.onWallMs),
    value: valueWords(reading),
    change: changeWords(changePercent),
  });

export const instrumentWords = ({ instrument, note = '' }: LightReading): string =>
  note === '' ? instrument : lightWords.withNote({ instrument, note });

/** Where every reading lies: time to the right, change against the baseline upwards. */
export function trendChart(trend: LightTrend, times: Times): Chart {
  const { points } = trend;
  const changes = points.map((p) => p.changePercent);
  const roundTo = (value: number, up: boolean): number =>
    (up ? Math.ceil(value / STEP_PERCENT) : Math.floor(value / STEP_PERCENT)) * STEP_PERCENT;
  const high = Math.max(TOP_PERCENT_MIN, roundTo(Math.max(...changes), true));
  const low = Math.min(LOW_PERCENT_MAX, roundTo(Math.min(...changes), false));
  const firstMs = points[0]?.reading.onWallMs ?? 0;
  const spanMs = Math.max(1, trend.last.reading.onWallMs - firstMs);
  const wide = CHART.width - CHART.left - CHART.right;
  const tall = CHART.height - CHART.top - CHART.bottom;
  const x = (ms: number): number => CHART.left + ((ms - firstMs) / spanMs) * wide;
  const y = (percent: number): number => CHART.top + ((high - percent) / (high - low)) * tall;
  const placed = points.map(
    (p): ChartPoint => ({
      id: p.reading.id,
      x: x(p.reading.onWallMs),
      y: y(p.changePercent),
      isBaseline: p.reading.isBaseline || p === points[0],
      words: pointWords(p, times),
    }),
  );
  const percents = [high, 0, BASELINE_FALL_CAUTION_PERCENT, low];
  const path = placed.map((p, i) => `${i === 0 ? 'M' : 'L'}${p.x.toFixed(1)},${p.y.toFixed(1)}`);
  return {
    points: placed,
    path: path.join(' '),
    lines: [...new Set(percents)].map((percent) => ({
      percent,
      y: y(percent),
      label: changeWords(percent),
      kind:
        percent === 0 ? 'baseline' : percent === BASELINE_FALL_CAUTION_PERCENT ? 'fall' : 'plain',
    })),
    days:
      points.length < 2
        ? [{ x: CHART.left, label: times.date(firstMs), isEnd: false }]
        : [
            { x: CHART.left, label: times.date(firstMs), isEnd: false },
            { x: CHART.width - CHART.right, label: times.date(firstMs + spanMs), isEnd: true },
          ],
  };
}

export const hasFallen = (trend: LightTrend): boolean =>
  trend.last.changePercent <= BASELINE_FALL_CAUTION_PERCENT;

export const hasOtherInstrument = (trend: LightTrend): boolean =>
  new Set(trend.points.map((p) => p.reading.instrument)).size > 1;

/** A reading while it is typed. */
export interface LightReadingFields {
  readonly light: string;
  readonly instrument: string;
  readonly value: string;
  readonly on: string;
  readonly isBaseline: boolean;
  readonly note: string;
}

type ReadingProblems = Partial<Record<keyof typeof lightWords.problems, string>>;

const VALUE_MIN = 50;
const VALUE_MAX = 20_000;

/** Digits as people type them: `1 150`, `1150`, `1150.5`, `1150,5`. */
function numberOf(text: string): number {
  return Number(text.replace(/\s/g, '').replace(',', '.'));
}

export function readingProblems(
  draft: LightReadingFields,
  nowWallMs: number,
  times: Times,
): ReadingProblems {
  const words = lightWords.problems;
  const value = numberOf(draft.value);
  const isValue = draft.value.trim() !== '' && value >= VALUE_MIN && value <= VALUE_MAX;
  const today = times.isoDay(nowWallMs);
  const isDay = /^\d{4}-\d{2}-\d{2}$/.test(draft.on) && draft.on <= today;
  return {
    ...(draft.light.trim() === '' ? { light: words.light } : {}),
    ...(draft.instrument.trim() === '' ? { instrument: words.instrument } : {}),
    ...(isValue ? {} : { value: words.value({ min: VALUE_MIN, max: VALUE_MAX }) }),
    ...(isDay ? {} : { on: words.on }),
  };
}

/** The reading that a draft without problems stands for; read today, it was read now. */
export function readingOf(
  draft: LightReadingFields,
  o: { readonly id: string; readonly nowWallMs: number; readonly times: Times },
): LightReading {
  const isToday = draft.on === o.times.isoDay(o.nowWallMs);
  const noon = o.times.instantOf(`${draft.on}T12:00:00`) ?? Number.NaN;
  return {
    id: o.id,
    light: draft.light.trim(),
    instrument: draft.instrument.trim(),
    irradianceMwPerCm2: numberOf(draft.value),
    onWallMs: isToday ? o.nowWallMs : noon,
    isBaseline: draft.isBaseline,
    ...(draft.note.trim() === '' ? {} : { note: draft.note.trim() }),
  };
}
