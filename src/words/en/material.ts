/** Generic classes of restorations and materials, as people say them. */

/** A restoration where it stands by itself, as one of them, and as all of its kind. */
interface RestorationForms {
  readonly alone: string;
  readonly one: string;
  readonly all: string;
}

/** A material where it stands by itself and inside a sentence. */
interface MaterialForms {
  readonly alone: string;
  readonly inLine: string;
}

const restorations = {
  veneer: { alone: 'Veneer', one: 'a veneer', all: 'veneers' },
  inlay: { alone: 'Inlay', one: 'an inlay', all: 'inlays' },
  onlay: { alone: 'Onlay', one: 'an onlay', all: 'onlays' },
  crown: { alone: 'Crown', one: 'a crown', all: 'crowns' },
  bridge: { alone: 'Bridge', one: 'a bridge', all: 'bridges' },
} satisfies Record<string, RestorationForms>;

const materials = {
  'lithium-disilicate': { alone: 'Lithium disilicate', inLine: 'lithium disilicate' },
  leucite: { alone: 'Leucite glass-ceramic', inLine: 'leucite glass-ceramic' },
  feldspathic: { alone: 'Feldspathic ceramic', inLine: 'feldspathic ceramic' },
  zirconia: { alone: 'Zirconia', inLine: 'zirconia' },
  'resin-composite': { alone: 'Resin composite', inLine: 'resin composite' },
} satisfies Record<string, MaterialForms>;

export const material = { restorations, materials };
