/** Where a number comes from, in words that a reader can follow up. */
import { unreachable } from '../base/assert.ts';
import type { Basis, Source } from '../protocol/types.ts';
import { basis as english } from './en/basis.ts';
import { spoken } from './language.ts';

const basisTexts = spoken('basis', english);

interface BasisWords {
  /** "Product instructions", "Published", "Common practice". */
  readonly kind: string;
  /** What to look up. */
  readonly line: string;
  /** Both in one line. */
  readonly whole: string;
}

function basisLine(basis: Basis, sources: readonly Source[]): string {
  switch (basis.kind) {
    case 'instructions':
      return basisTexts.instructions(basis);
    case 'published': {
      const { source, note } = basis;
      const citation = sources.find((s) => s.id === source)?.citation ?? source;
      return note === undefined ? citation : basisTexts.noted({ citation, note });
    }
    case 'practice':
      return basis.note ?? basisTexts.toCheck;
    default:
      return unreachable(basis);
  }
}

/** The words of one basis. */
export function basisWords(basis: Basis, sources: readonly Source[]): BasisWords {
  const told = { kind: basisTexts.kinds[basis.kind], line: basisLine(basis, sources) };
  return { ...told, whole: basisTexts.whole(told) };
}

/** A number, as it is shown, with its basis behind it. */
export function numberWithBasis(shown: string, basis: Basis, sources: readonly Source[]): string {
  return basisTexts.withNumber({ shown, ...basisWords(basis, sources) });
}

/** A basis in two or three words, to stand under a number: "Gel, IFU 7", "Gaile 2022". */
export function basisShort(basis: Basis, sources: readonly Source[]): string {
  switch (basis.kind) {
    case 'instructions':
      return basisTexts.short.instructions(basis);
    case 'published': {
      const cited = sources.find((source) => source.id === basis.source)?.citation ?? basis.source;
      const author = /^[^\s,]+/.exec(cited)?.[0] ?? basis.source;
      const year = /\b(?:19|20)\d\d\b/.exec(cited)?.[0] ?? '';
      return basisTexts.short.published({ author, year });
    }
    case 'practice':
      return basisTexts.short.practice;
    default:
      return unreachable(basis);
  }
}
