/** Where a number comes from. */
import type { Basis } from '../../protocol/types.ts';

type Instructions = Extract<Basis, { readonly kind: 'instructions' }>;

export const basis = {
  kinds: {
    instructions: 'Product instructions',
    published: 'Published',
    practice: 'Common practice, no source',
  } satisfies Record<Basis['kind'], string>,
  short: {
    instructions: (o: { readonly document: string; readonly revision: string }): string =>
      `${o.document}, ${o.revision}`,
    published: (o: { readonly author: string; readonly year: string }): string =>
      `${o.author} ${o.year}`.trim(),
    practice: 'Common practice',
  } satisfies Record<Basis['kind'], unknown>,
  instructions: (o: Instructions): string =>
    o.page === undefined
      ? `${o.document}, ${o.revision}; confirmed by ${o.confirmedBy} on ${o.confirmedOn}`
      : `${o.document}, ${o.revision}, page ${o.page}; confirmed by ${o.confirmedBy} on ${o.confirmedOn}`,
  noted: (o: { readonly citation: string; readonly note: string }): string =>
    `${o.citation}. Note: ${o.note}`,
  toCheck: 'To be checked against the product instructions',
  whole: (o: { readonly kind: string; readonly line: string }): string => `${o.kind}: ${o.line}`,
  withNumber: (o: {
    readonly shown: string;
    readonly kind: string;
    readonly line: string;
  }): string => `${o.shown} (${o.kind}: ${o.line})`,
};
