/** Words of a difference between two protocols. */
import type { Part } from '../../protocol/edit-types.ts';
import type { Moment } from '../../protocol/types.ts';

interface Joined {
  readonly step: string;
  readonly link: string;
}

export const change = {
  none: 'none',
  yes: 'yes',
  no: 'no',
  fromTo: (o: { readonly what: string; readonly before: string; readonly after: string }): string =>
    `${o.what} ${o.before} → ${o.after}`,
  basisOnly: (o: { readonly what: string; readonly value: string }): string =>
    `${o.what} unchanged, now from: ${o.value}`,
  added: (what: string): string => `${what} added`,
  removed: (what: string): string => `${what} removed`,
  removedBecause: (o: { readonly what: string; readonly reason: string }): string =>
    `${o.what} removed: ${o.reason}`,
  noneBecause: (reason: string): string => `none: ${reason}`,
  moment: {
    start: (step: string): string => `the start of ${step}`,
    end: (step: string): string => `the end of ${step}`,
  } satisfies Record<Moment['edge'], unknown>,
  onLink: (o: Joined): string => `${o.step} on ${o.link}`,
  onLinkBegun: (o: Joined): string => `${o.step} on ${o.link}, as soon as it has begun`,
  sameInWords: 'the same in words; an id, or where a number comes from, differs',
  onlyWhere: (o: { readonly what: string; readonly where: string }): string =>
    `${o.what}, only where ${o.where}`,
  reading: (o: {
    readonly label: string;
    readonly min: string;
    readonly max: string;
    readonly unit: string;
  }): string => `${o.label}, ${o.min} to ${o.max} ${o.unit}`,
  against: (what: string): string => `told against: ${what}`,
  equals: (step: string): string => `the same as at ${step}`,
  onLinkOnlyAfter: (o: Joined & { readonly onlyAfter: string }): string =>
    `${o.step} on ${o.link}, only where ${o.onlyAfter} has begun`,
  /** Words or names one after the other. */
  list: (parts: readonly string[]): string => parts.join(', '),
  /** Longer pieces one after the other, which may hold commas themselves. */
  clauses: (parts: readonly string[]): string => parts.join('; '),
  listAdded: (parts: readonly string[]): string => `added ${parts.join('; ')}`,
  listTakenAway: (parts: readonly string[]): string => `taken away ${parts.join('; ')}`,
  listOrder: 'the same in another order',
  /** Any of them is enough. */
  oneOf: (parts: readonly string[]): string => parts.join(', or '),
  optionAgain: (o: { readonly option: string; readonly again: string }): string =>
    `${o.option} (${o.again})`,
  /** An option with what is said of it. */
  withNotes: (o: { readonly label: string; readonly notes: string }): string =>
    `${o.label} (${o.notes})`,
  takenByItself: 'taken by itself',
  withReason: (o: { readonly choice: string; readonly why: string }): string =>
    `${o.choice}. ${o.why}`,
  quoted: (text: string): string => `“${text}”`,
  moved: (o: { readonly what: string; readonly from: number; readonly to: number }): string =>
    `${o.what} moved from place ${o.from} to ${o.to}`,
  place: (place: number): string => `place ${place}`,
  numbered: (o: { readonly label: string; readonly value: string }): string =>
    `${o.label} ${o.value}`,
  citation: (o: { readonly citation: string; readonly doi: string }): string =>
    `${o.citation}, ${o.doi}`,
  field: (o: { readonly owner: string; readonly field: string }): string =>
    `${o.owner}: ${o.field}`,
  entry: {
    steps: (title: string): string => `Step ${title}`,
    windows: (title: string): string => `Window ${title}`,
    waysBack: (title: string): string => `Way back ${title}`,
    slots: (label: string): string => `Material ${label}`,
    cautions: (words: string): string => `Caution “${words}”`,
    sources: (source: string): string => `Source ${source}`,
    stages: (title: string): string => `Stage ${title}`,
    lists: (title: string): string => `List ${title}`,
  } satisfies Record<Part, unknown>,
  fields: {
    language: 'language',
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
    where: 'only where',
    choices: 'choices at set-up',
    usesLight: 'uses the light',
    uses: 'materials',
    cautions: 'cautions',
    action: 'what is pressed',
    'action.surfaces': 'surfaces',
    'action.walk': 'walk',
    'action.until': 'until',
    'action.variants': 'times by what is known',
    'action.byMaterial': 'times by class of material',
    'action.options': 'options',
    'action.evidence': 'evidence',
    'action.label': 'what is counted',
    hands: 'rhythm of the hands',
    pressed: 'how it is pressed',
    'pressed.list': 'list',
    'pressed.start': 'sweep at the start',
    'pressed.end': 'sweep at the end',
    'pressed.by': 'said by',
    'pressed.confirmedBy': 'confirmed by',
    rangeClass: 'kind of step',
    'some.instruction': 'what to do for a part of them',
    'some.words.start': 'words of the first press for a part of them',
    'some.words.end': 'words of the last press for a part of them',
    'words.start': 'words of the first press',
    'words.end': 'words of the last press',
    'words.leaves': 'where it leaves the tooth or unit',
    from: 'opens at',
    to: 'must close by',
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
    short: 'short form',
    citation: 'citation',
    doi: 'DOI',
    mishap: 'what went wrong',
    until: 'fits until',
    materials: 'materials it is for',
    earlier: 'done before the case',
    optional: 'may be skipped',
    mayHurt: 'may hurt',
    field: 'isolation of the field',
  },
  /** The same key means another thing in another part. */
  fieldsOfPart: {
    'slots.optional': 'not every case needs it',
    'waysBack.from': 'fits from',
    'waysBack.per': 'happens to',
    'waysBack.proposal': 'what the app proposes',
  },
};
