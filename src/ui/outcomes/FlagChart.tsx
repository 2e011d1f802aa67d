import { addDays } from '../../outcomes/days.ts';
import type { ChartShown } from '../../outcomes/model/outcomes-types.ts';
import { flagWords, oneDigit } from '../../words/outcome-words.ts';
import { useTimes } from '../shared/session-context.ts';

const WIDTH = 1000;
const HEIGHT = 236;
const PLOT = { left: 30, right: 900, top: 16, bottom: 196 } as const;

/** Days of a chart are counted from here. */
const DAY_ZERO = '1970-01-01';

/** The chart over the calendar: a mark for each failure, the limit as a dashed line, above it larger marks. */
export function FlagChart({
  chart,
  endPoint,
}: {
  readonly chart: ChartShown;
  readonly endPoint: string;
}) {
  const { points, fromDay, today, limit, now } = chart;
  const { dateOf } = useTimes();
  const dayWords = (day: number): string => dateOf(addDays(DAY_ZERO, Math.floor(day)));
  const highest = Math.max(limit * 1.25, now, ...points.map((point) => point.chart));
  const x = (day: number): number =>
    PLOT.left + ((PLOT.right - PLOT.left) * (day - fromDay)) / Math.max(1, today - fromDay);
  const y = (value: number): number =>
    PLOT.bottom - ((PLOT.bottom - PLOT.top) * value) / Math.max(highest, 0.1);
  const words = { now: oneDigit(now), limit: oneDigit(limit) };
  return (
    <svg
      className="outcomes-picture"
      data-still="true"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={flagWords.picture({ endPoint, ...words })}
    >
      <line className="outcomes-grid" x1={PLOT.left} x2={PLOT.right} y1={y(0)} y2={y(0)} />
      <path className="outcomes-limit" d={limitPath(chart, x, y)} />
      <text className="outcomes-tick" x={PLOT.right + 10} y={y(limit) + 7}>
        {flagWords.limitMark}
      </text>
      {points.map(({ day, chart: value, isFlag }) => (
        <g key={day} className="outcomes-point" data-flag={isFlag}>
          <line x1={x(day)} x2={x(day)} y1={y(0)} y2={y(value)} />
          <circle cx={x(day)} cy={y(value)} r={isFlag ? 8 : 4.5} />
        </g>
      ))}
      <text className="outcomes-tick" x={PLOT.left} y={HEIGHT - 12}>
        {dayWords(fromDay)}
      </text>
      <text className="outcomes-tick" x={PLOT.right} y={HEIGHT - 12} textAnchor="end">
        {dayWords(today)}
      </text>
      <line className="outcomes-now" x1={x(today)} x2={x(today)} y1={y(0)} y2={y(now)} />
    </svg>
  );
}

/** The limit grows with what is expected a year, so it is a line through its value at each failure. */
function limitPath(
  { points, limit, today, fromDay }: ChartShown,
  x: (day: number) => number,
  y: (value: number) => number,
): string {
  const first = points[0];
  const all = [{ day: fromDay, limit: first?.limit ?? limit }, ...points, { day: today, limit }];
  return all
    .map(
      (point, at) =>
        `${at === 0 ? 'M' : 'L'}${x(point.day).toFixed(1)},${y(point.limit).toFixed(1)}`,
    )
    .join(' ');
}
