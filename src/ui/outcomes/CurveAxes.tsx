import type { YearAtRisk } from '../../outcomes/model/outcomes-types.ts';
import { outcomeWords, shareWords } from '../../words/outcome-words.ts';
import { PLOT, type Scale, yearX } from './curve-geometry.ts';

/** Years along the foot, shares at the side. */
export function Axes({ scale }: { readonly scale: Scale }) {
  return (
    <g>
      {scale.shares.map((share) => (
        <g key={share.toFixed(1)}>
          <line
            className="outcomes-grid"
            x1={PLOT.left}
            x2={PLOT.right}
            y1={scale.y(share)}
            y2={scale.y(share)}
          />
          <text
            className="outcomes-tick"
            x={PLOT.left - 10}
            y={scale.y(share) + 7}
            textAnchor="end"
          >
            {shareWords(share).replace(/[.,]0/, '')}
          </text>
        </g>
      ))}
      {scale.years.map((years) => (
        <g key={years}>
          <line
            className="outcomes-grid"
            x1={yearX(scale, years)}
            x2={yearX(scale, years)}
            y1={PLOT.bottom}
            y2={PLOT.bottom + 8}
          />
          <text
            className="outcomes-tick"
            x={yearX(scale, years)}
            y={PLOT.bottom + 30}
            textAnchor="middle"
          >
            {years}
          </text>
        </g>
      ))}
      <text className="outcomes-axis-name" x={PLOT.right} y={PLOT.bottom + 62} textAnchor="end">
        {outcomeWords.axisYears}
      </text>
    </g>
  );
}

/** Lives under observation, year by year, in a row below the years. */
export function AtRisk(o: {
  readonly scale: Scale;
  readonly y: number;
  readonly label: string;
  readonly atRisk: readonly YearAtRisk[];
}) {
  return (
    <g>
      <text className="outcomes-axis-name" x={PLOT.left} y={o.y - 24}>
        {o.label}
      </text>
      {o.atRisk.map(({ years, lives }) => (
        <text
          key={years}
          className="outcomes-at-risk"
          data-thin={lives < 10}
          x={yearX(o.scale, years)}
          y={o.y + 4}
          textAnchor="middle"
        >
          {lives}
        </text>
      ))}
    </g>
  );
}
