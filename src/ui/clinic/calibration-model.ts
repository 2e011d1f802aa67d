/**
 * Size of the screen from a card laid on it. Width of the card in millimetres after ISO/IEC 7810:2019,
 * format ID-1.
 */
export const CARD_WIDTH_MM = 85.6;

/** A common ten-inch tablet, in CSS px per mm; the same figure the style sheets begin with. */
export const ASSUMED_PX_PER_MM = 5.2;

/** What people can press to: one px, or as much as a card is out of true at arm's length. */
export const FINE_STEP_PX = 1;
export const COARSE_STEP_PX = 10;

const PX_PER_MM_MIN = 2;
const PX_PER_MM_MAX = 16;

/** The outline's width in px, kept inside what screens have. */
export function movedWidth(widthPx: number, byPx: number): number {
  const next = widthPx + byPx;
  return Math.min(CARD_WIDTH_MM * PX_PER_MM_MAX, Math.max(CARD_WIDTH_MM * PX_PER_MM_MIN, next));
}

/** The outline's width in px for a screen of so many px per mm. */
export function widthOf(pxPerMm: number): number {
  return Math.round(CARD_WIDTH_MM * pxPerMm);
}

/** CSS px per mm of a screen on which the card covers an outline of this width in px. */
export function pxPerMmOf(widthPx: number): number {
  return Number((widthPx / CARD_WIDTH_MM).toFixed(3));
}
