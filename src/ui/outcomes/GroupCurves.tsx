import type { PlainCurve } from '../../outcomes/model/outcomes-types.ts';
import { groupWords } from '../../words/outcome-words.ts';
import { Axes } from './CurveAxes.tsx';
import { scaleOf, stepPath, WIDTH } from './curve-geometry.ts';

const HEIGHT = 380;

/** Two curves: one line is full, the other is dashed. */
export function GroupCurves(o: {
  readonly curves: readonly [first: PlainCurve, rest: PlainCurve];
  readonly names: { readonly first: string; readonly rest: string };
}) {
  const [first, rest] = o.curves;
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
        <path className="outcomes-line" data-rest="true" d={stepPath(rest, scale)} />
        <path className="outcomes-line" d={stepPath(first, scale)} />
      </svg>
      <figcaption className="lw-aside">{groupWords.curves(o.names)}</figcaption>
    </figure>
  );
}
