/** What a tooth shows, what was done to a unit, and conditions on both. */
import type { Conditioned, Fact, Opacity, Provisional, Substrate } from '../../protocol/facts.ts';

export const condition = {
  facts: {
    substrate: 'what the tooth shows',
    provisional: 'the provisional',
    conditioned: 'what was done to the unit before',
    opacity: 'translucency',
    material: 'material',
    restoration: 'restoration',
    pontics: 'pontics',
  } satisfies Record<Fact, string>,
  substrates: {
    enamel: 'Enamel',
    'dentine-shows': 'Dentine shows',
    'dentine-sealed': 'Dentine sealed at preparation',
    'no-enamel-margin': 'No enamel margin',
    'build-up': 'Old composite or build-up',
    metal: 'Metal or amalgam',
  } satisfies Record<Substrate, string>,
  provisionals: {
    none: 'No provisional',
    eugenol: 'Cement with eugenol',
    'eugenol-free': 'Eugenol-free cement',
    resin: 'Resin',
    unknown: 'Not known',
  } satisfies Record<Provisional, string>,
  conditioned: {
    no: 'Not conditioned',
    etched: 'Etched by the laboratory',
    'etched-and-silanated': 'Etched and silanated',
    abraded: 'Air-abraded',
  } satisfies Record<Conditioned, string>,
  opacities: {
    'high-translucency': 'High translucency',
    'low-translucency': 'Low translucency',
    'medium-opacity': 'Medium opacity',
    opaque: 'Opaque',
  } satisfies Record<Opacity, string>,
  yes: 'Yes',
  no: 'No',
  /** Stands in a list of conditions: "what the tooth shows: Enamel". */
  factIs: (o: { readonly fact: string; readonly values: readonly string[] }): string =>
    `${o.fact}: ${o.values.join(' / ')}`,
  factIsNot: (o: { readonly fact: string; readonly values: readonly string[] }): string =>
    `${o.fact}: not ${o.values.join(' / ')}`,
  over: (mm: string): string => `thicker than ${mm}`,
  chosen: (o: { readonly title: string; readonly options: readonly string[] }): string =>
    `${o.title}: ${o.options.join(' / ')}`,
  all: (conditions: readonly string[]): string => conditions.join(', '),
  any: (conditions: readonly string[]): string => conditions.join(' / '),
};
