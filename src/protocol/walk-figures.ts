/** Every figure and basis of a protocol with its place, in document order. */
import type { Basis, Figure, Protocol } from './types.ts';

interface PlacedBasis {
  readonly place: string;
  readonly basis: Basis;
  /** Null for a basis that stands alone, as in a way back. */
  readonly figure: Figure | null;
}

/** A number with what it stands on. */
export function isFigure(value: unknown): value is Figure {
  return typeof value === 'object' && value !== null && 'value' in value && 'basis' in value;
}

function walk(value: unknown, place: string, found: PlacedBasis[]): void {
  if (typeof value !== 'object' || value === null) return;
  if (Array.isArray(value)) {
    value.forEach((item, i) => {
      walk(item, `${place}[${i}]`, found);
    });
    return;
  }
  if (isFigure(value)) {
    found.push({ place, basis: value.basis, figure: value });
    return;
  }
  for (const [key, inner] of Object.entries(value)) walk(inner, `${place}.${key}`, found);
}

/** All figures of the document, and the bases of its ways back. */
export function basesOf(protocol: Protocol): readonly PlacedBasis[] {
  const found: PlacedBasis[] = [];
  walk(protocol.steps, 'protocol.steps', found);
  walk(protocol.windows, 'protocol.windows', found);
  protocol.waysBack.forEach((way, i) => {
    found.push({ place: `protocol.waysBack[${i}]`, basis: way.basis, figure: null });
  });
  return found;
}
