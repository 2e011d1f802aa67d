/** Where a number comes from, in words that a reader can follow up. */
import { unreachable } from '../base/assert.ts';
import type { Basis, Source } from '../protocol/types.ts';

export interface BasisWords {
  /** "Product instructions", "Published", "Common practice". */
  readonly kind: string;
  /** What to look up. */
  readonly line: string;
}

function instructionsLine(basis: Extract<Basis, { kind: 'instructions' }>): string {
  const page = basis.page === undefined ? '' : `, page ${basis.page}`;
  return `${basis.document}, ${basis.revision}${page}; confirmed by ${basis.confirmedBy} on ${basis.confirmedOn}`;
}

function publishedLine(
  basis: Extract<Basis, { kind: 'published' }>,
  sources: readonly Source[],
): string {
  const cited = sources.find((s) => s.id === basis.source)?.citation ?? basis.source;
  return basis.note === undefined ? cited : `${cited}. Note: ${basis.note}`;
}

/** The words of one basis. */
export function basisWords(basis: Basis, sources: readonly Source[]): BasisWords {
  switch (basis.kind) {
    case 'instructions':
      return { kind: 'Product instructions', line: instructionsLine(basis) };
    case 'published':
      return { kind: 'Published', line: publishedLine(basis, sources) };
    case 'practice':
      return {
        kind: 'Common practice, no source',
        line: basis.note ?? 'To be checked against the product instructions',
      };
    default:
      return unreachable(basis);
  }
}
