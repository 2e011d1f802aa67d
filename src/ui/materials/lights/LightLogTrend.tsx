import type { LightTrend } from '../../../runtime/stock/stock-light.ts';
import { lightWords } from '../../../words/light-log-words.ts';
import { useTimes } from '../../shared/session-context.ts';
import { CHART, changeWords, trendChart } from './light-log-model.ts';

const MARK_RADIUS = 6;

/** Readings of one light in time: ink dots, the baseline as a mark, the fall hatched below. */
export function LightLogTrend({ trend }: { readonly trend: LightTrend }) {
  const chart = trendChart(trend, useTimes());
  const name = lightWords.chart({
    light: trend.light,
    count: trend.points.length,
    drift: changeWords(trend.last.changePercent),
  });
  const fall = chart.lines.find((line) => line.kind === 'fall');
  const bottom = CHART.height - CHART.bottom;
  const right = CHART.width - CHART.right;
  const hatch = `fall-${trend.light.replace(/\W/g, '')}`;
  return (
    <svg className="trend" viewBox={`0 0 ${CHART.width} ${CHART.height}`} role="img">
      <title>{name}</title>
      <defs>
        <pattern
          id={hatch}
          width="8"
          height="8"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path className="trend-hatch" d="M0,0 V8" />
        </pattern>
      </defs>
      {fall !== undefined && (
        <rect
          x={CHART.left}
          y={fall.y}
          width={right - CHART.left}
          height={Math.max(0, bottom - fall.y)}
          fill={`url(#${hatch})`}
        />
      )}
      {chart.lines.map((line) => (
        <g key={line.percent} data-kind={line.kind}>
          <path className="trend-line" d={`M${CHART.left},${line.y} H${right}`} />
          <text className="trend-label" x={CHART.left - 10} y={line.y + 5} textAnchor="end">
            {line.label}
          </text>
        </g>
      ))}
      <path className="trend-path" d={chart.path} />
      {chart.points.map((point) => (
        <g key={point.id}>
          {point.isBaseline ? (
            <path
              className="trend-mark"
              d={`M${point.x - 10},${point.y} H${point.x + 10} M${point.x},${point.y - 10} V${point.y + 10}`}
            />
          ) : (
            <circle className="trend-point" cx={point.x} cy={point.y} r={MARK_RADIUS} />
          )}
          <title>{point.words}</title>
        </g>
      ))}
      {chart.days.map((day) => (
        <text
          key={day.x}
          className="trend-label"
          x={day.x}
          y={CHART.height - 10}
          textAnchor={day.isEnd ? 'end' : 'start'}
        >
          {day.label}
        </text>
      ))}
    </svg>
  );
}
