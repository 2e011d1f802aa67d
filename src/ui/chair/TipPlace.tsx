import { layoutOf, surfacePlans } from '../../engine/layout.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';

const MARGIN_MM = 1;

/**
 * Where the tip goes: the surface as the outline of its crown, the tip's disc at its place, the
 * other places as rings. Drawn only where one place does not cover the surface. Lengths in mm.
 */
export function TipPlace({ running }: { readonly running: RunningCase }) {
  const top = running.view.attention.inHand;
  if (!top?.surface || !top.kind.startsWith('light')) return null;
  const layout = layoutOf(running.log.state);
  const instance = layout.byKey.get(`${top.step}@${top.subjects[0]}`);
  const plan = instance
    ? surfacePlans(layout, instance).find((p) => p.surface === top.surface)
    : undefined;
  const covers = plan?.covers;
  if (!covers || covers.spots.length < 2) return null;
  const radiusMm = running.log.state.opened.spec.light.tipDiameterMm / 2;
  const reachMm = radiusMm + MARGIN_MM;
  const at = (top.position ?? 1) - 1;
  const box = [
    -reachMm,
    -reachMm,
    covers.widthMm + 2 * reachMm,
    covers.heightMm + 2 * reachMm,
  ].join(' ');
  return (
    <svg
      className="chair-tip"
      viewBox={box}
      role="img"
      aria-label={chairWords.tipPlace({ at: at + 1, of: covers.spots.length })}
    >
      {/* The plan measures from the lower edge; a drawing measures from the upper one. */}
      <g transform={`translate(0 ${covers.heightMm}) scale(1 -1)`}>
        <ellipse
          className="chair-tip-crown"
          cx={covers.widthMm / 2}
          cy={covers.heightMm / 2}
          rx={covers.widthMm / 2}
          ry={covers.heightMm / 2}
        />
        {covers.spots.map((spot, i) => (
          <circle
            key={`${spot.xMm} ${spot.yMm}`}
            className="chair-tip-disc"
            data-now={i === at}
            cx={spot.xMm}
            cy={spot.yMm}
            r={radiusMm}
          />
        ))}
      </g>
    </svg>
  );
}
