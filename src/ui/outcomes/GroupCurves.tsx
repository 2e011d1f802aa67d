import type { PlainCurve } from '../../outcomes/model/outcomes-types.ts';
import { groupWords, outcomeWords, shareWords } from '../../words/outcome-words.ts';
import { AtRisk, Axes } from './CurveAxes.tsx';
import { firmPart, scaleOf, stepPath, thinPath, WIDTH } from './curve-geometry.ts';

const HEIGHT = 470;
const RISK_Y = 388;
const RISK_EVERY = 58;

/** Two curves: one line is full, the other is dashed. */
export function GroupCurves(o: {
  readonly curves: readonly [first: PlainCurve, rest: PlainCurve];
  readonly names: { readonly first: string; readonly rest: string };
}) {
  const [first, rest] = o.curves;
  const label = (name: string): string => groupWords.atRisk(name);
  const lowest = Math.min(0.9, ...[...first.steps, ...rest.steps].map(({ survival }) => survival));
  const scale = scaleOf({ lastDay: Math.max(first.lastDay, rest.lastDay), lowest });
  return (
    <figure className="outcomes-figure">
      <svg
        className="outcomes-picture"
        data-still="true"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={groupWords.curves(o.names)}
      >
        <Axes scale={scale} />
        <path className="outcomes-line" data-thin="true" d={thinPath(rest, scale)} />
        <path className="outcomes-line" data-thin="true" d={thinPath(first, scale)} />
        <path className="outcomes-line" data-rest="true" d={stepPath(firmPart(rest), scale)} />
        <path className="outcomes-line" d={stepPath(firmPart(first), scale)} />
        <AtRisk scale={scale} y={RISK_Y} label={label(o.names.first)} atRisk={first.atRisk} />
        <AtRisk
          scale={scale}
          y={RISK_Y + RISK_EVERY}
          label={label(o.names.rest)}
          atRisk={rest.atRisk}
        />
      </svg>
      <figcaption className="lw-aside">
        {groupWords.curves(o.names)}.{' '}
        {scale.foot > 0 && outcomeWords.scaleFrom(shareWords(scale.foot))}
      </figcaption>
    </figure>
  );
}
