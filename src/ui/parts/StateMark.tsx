import { unreachable } from '../../base/assert.ts';
import './state-mark.css';

/**
 * The gauge as a letter-sized sign: empty, partly filled, at its target, full, spilled, struck out.
 * It goes before a word and never stands alone.
 */
export type MarkShape = 'empty' | 'part' | 'target' | 'full' | 'spilled' | 'struck' | 'broken';

function inside(shape: MarkShape) {
  switch (shape) {
    case 'empty':
      return null;
    case 'part':
      return <path className="lw-mark-fill" d="M7,16 H17 V19 Q17,21 15,21 H9 Q7,21 7,19 Z" />;
    case 'target':
      return (
        <>
          <path className="lw-mark-fill" d="M7,12 H17 V19 Q17,21 15,21 H9 Q7,21 7,19 Z" />
          <path className="lw-mark-line" d="M2,12 H22" />
        </>
      );
    case 'full':
      return <path className="lw-mark-fill" d="M7,6 H17 V19 Q17,21 15,21 H9 Q7,21 7,19 Z" />;
    case 'spilled':
      return (
        <>
          <path className="lw-mark-fill" d="M7,7 H17 V19 Q17,21 15,21 H9 Q7,21 7,19 Z" />
          <path
            className="lw-mark-fill"
            d="M2,13 V5 Q2,2 5,2 H19 Q22,2 22,5 V13 H19.5 V7 H4.5 V13 Z"
          />
        </>
      );
    case 'struck':
      return <path className="lw-mark-line" d="M3,22 L21,3" />;
    case 'broken':
      return <path className="lw-mark-line" d="M12,6 L9,11 L15,14 L12,20" />;
    default:
      return unreachable(shape);
  }
}

/** Draws the sign in the colour of the text around it. */
export function StateMark({ shape }: { readonly shape: MarkShape }) {
  return (
    <svg className="lw-mark" viewBox="0 0 24 24" aria-hidden="true" data-shape={shape}>
      <path
        className="lw-mark-line"
        d="M4,4 Q6,5 6,7 V19 Q6,22 9,22 H15 Q18,22 18,19 V7 Q18,5 20,4"
      />
      {inside(shape)}
    </svg>
  );
}
