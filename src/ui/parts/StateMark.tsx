import { unreachable } from '../../base/assert.ts';
import './state-mark.css';

/**
 * The gauge as a letter-sized sign: empty, partly filled, at its target, full, spilled over, its walls
 * cracked, struck out.
 * It goes before a word and never stands alone.
 */
export type MarkShape =
  | 'empty'
  | 'part'
  | 'target'
  | 'full'
  | 'spilled'
  | 'cracked'
  | 'struck'
  | 'broken';

function inside(shape: MarkShape) {
  switch (shape) {
    case 'empty':
      return null;
    case 'part':
      return <path className="lw-mark-fill" d="M8,14.5 H16 V19 H8 Z" />;
    case 'target':
      return (
        <>
          <path className="lw-mark-fill" d="M8,11 H16 V19 H8 Z" />
          <path className="lw-mark-line" d="M1.5,9 H22.5" />
        </>
      );
    case 'full':
      return <path className="lw-mark-fill" d="M8,5 H16 V19 H8 Z" />;
    case 'spilled':
      return (
        <>
          <path className="lw-mark-fill" d="M8,5 H16 V19 H8 Z" />
          <path
            className="lw-mark-fill"
            d="M1,13 V5 Q1,0 6,0 H18 Q23,0 23,5 V13 H20.4 V5 H3.6 V13 Z"
          />
        </>
      );
    case 'cracked':
      return (
        <>
          <path className="lw-mark-fill" d="M8,5 H16 V19 H8 Z" />
          <path className="lw-mark-fill" d="M0,6 H4 V18 L0,22 Z M24,6 H20 V18 L24,22 Z" />
          <path className="lw-mark-line" d="M15,0.5 L10,5 L14,8 L9,13" />
        </>
      );
    case 'struck':
      return <path className="lw-mark-line" d="M2,22 L22,3" />;
    case 'broken':
      return <path className="lw-mark-line" d="M1.5,1.5 L22.5,22.5 M22.5,1.5 L1.5,22.5" />;
    default:
      return unreachable(shape);
  }
}

/** Draws the sign in the colour of the text around it. */
export function StateMark({ shape }: { readonly shape: MarkShape }) {
  return (
    <svg className="lw-mark" viewBox="0 0 24 24" aria-hidden="true" data-shape={shape}>
      <path className="lw-mark-line" d="M4,3 H6 V19.5 Q6,21.5 8,21.5 H16 Q18,21.5 18,19.5 V3 H20" />
      {inside(shape)}
    </svg>
  );
}
