/** Words of a difference between two protocols. */
import type { Part } from '../protocol/edit-types.ts';

export const changeWords = {
  none: 'none',
  yes: 'yes',
  no: 'no',
  fromTo: (o: { readonly what: string; readonly before: string; readonly after: string }): string =>
    `${o.what} ${o.before} → ${o.after}`,
  basisOnly: (o: { readonly what: string; readonly value: string }): string =>
    `${o.what} stays, now from: ${o.value}`,
  added: (what: string): string => `${what} added`,
  removed: (what: string): string => `${what} removed`,
  removedBecause: (o: { readonly what: string; readonly reason: string }): string =>
    `${o.what} removed: ${o.reason}`,
  noneBecause: (reason: string): string => `none: ${reason}`,
  moment: (o: { readonly edge: string; readonly step: string }): string => `${o.edge} of ${o.step}`,
  onLink: (o: { readonly step: string; readonly link: string }): string => `${o.step} on ${o.link}`,
  begun: 'as soon as it has begun',
  onlyAfter: (step: string): string => `only where ${step} has begun`,
  or: ', or ',
  moved: (o: { readonly what: string; readonly from: number; readonly to: number }): string =>
    `${o.what} moved from place ${o.from} to ${o.to}`,
  place: (place: number): string => `place ${place}`,
} as const;

export const PART_WORDS: Readonly<Record<Part, string>> = {
  steps: 'Step',
  windows: 'Window',
  waysBack: 'Way back',
  slots: 'Material',
  cautions: 'Caution',
  sources: 'Source',
  stages: 'Stage',
};

export const FIELD_WORDS: Readonly<Record<string, string>> = {
  title: 'title',
  summary: 'summary',
  restorations: 'restorations',
  instruction: 'what to do',
  why: 'why',
  stage: 'stage',
  per: 'done for',
  by: 'done by',
  together: 'one press for the round',
  roundOf: 'shares rounds of',
  beginsWith: 'clock begins with',
  after: 'waits for',
  onlyIf: 'only if',
  usesLight: 'uses the light',
  uses: 'materials',
  cautions: 'cautions',
  action: 'what is pressed',
  'action.surfaces': 'surfaces',
  'action.walk': 'walk',
  'action.until': 'until',
  'action.options': 'options',
  'action.evidence': 'evidence',
  'action.label': 'what is counted',
  hands: 'rhythm of the hands',
  rangeClass: 'kind of step',
  'words.start': 'words of the first press',
  'words.end': 'words of the last press',
  from: 'opens at',
  to: 'must be closed at',
  match: 'joins',
  protects: 'protects',
  severity: 'when broken',
  wayBack: 'way back',
  amber: 'amber',
  voids: 'to be done again',
  proposal: 'proposal',
  basis: 'basis',
  label: 'label',
  materialClass: 'class of material',
  refrigerated: 'kept cold',
  standsFor: 'stands for',
  words: 'words',
  citation: 'citation',
  doi: 'DOI',
  mishap: 'what went wrong',
  until: 'fits until',
  materials: 'materials it is for',
  earlier: 'done before the case',
  optional: 'may be left out',
};

/** The same key means another thing in another part. */
export const PART_FIELD_WORDS: Readonly<Record<string, string>> = {
  'waysBack.from': 'fits from',
  'waysBack.per': 'happens to',
  'waysBack.proposal': 'what the app proposes',
};
