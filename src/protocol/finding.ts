/**
 * What a check has to say about a document that parses: a stable code, the place, how serious it is
 * and the values that words need. Words for people live elsewhere, keyed by the code.
 */
import type { Protocol } from './types.ts';

export const findingCodes = [
  'duplicate-id',
  'unknown-stage',
  'unknown-step',
  'unknown-slot',
  'unknown-caution',
  'caution-not-short',
  'unknown-source',
  'unknown-way-back',
  'unknown-option',
  'unknown-choice',
  'unknown-value',
  'condition-without-value',
  'link-needs-same-scope',
  'link-needs-other-scope',
  'link-has-no-order',
  'waits-in-a-circle',
  'bounds-crossed',
  'window-without-bound',
  'window-of-one-moment',
  'window-cannot-be-kept',
  'window-tight-on-a-slow-day',
  'expose-without-time',
  'expose-without-surface',
  'surface-twice',
  'choice-without-options',
  'hands-without-dwell',
  'clock-without-dwell',
  'clock-not-after',
  'no-steps',
  'acid-on-zirconia',
  'phosphate-on-zirconia',
  'material-not-in-protocol',
  'restoration-not-in-protocol',
  'not-asked',
  'light-cured-thick',
  'light-cured-too-thick',
  'light-dose-not-reached',
  'light-target-not-reached',
  'light-product-over',
  'light-no-programme',
  'product-light-over',
  'dose-beyond-credit',
  'unused',
  'unknown-list',
  'press-does-not-fit',
  'list-waits-outside',
  'list-spans-minimum',
  'sweep-without-edge',
  'sweep-start-not-pressed',
  'start-not-pressed',
  'implied-by-nothing',
  'implied-not-later',
  'implied-past-press',
  'implied-answer',
  'implied-minimum',
  'paced-not-later',
  'quote-differs',
  'hardly-meant',
  'hazard-without-caution',
  'title-too-long',
  'after-signature',
] as const;

export type FindingCode = (typeof findingCodes)[number];

export type FindingValues = Readonly<
  Record<string, string | number | readonly (string | number)[]>
>;

export interface Finding {
  readonly code: FindingCode;
  /** `protocol.steps[3].after[0].step` */
  readonly place: string;
  /** An error makes the document unusable; a caution is for the clinic lead to judge. */
  readonly level: 'error' | 'caution';
  readonly values: FindingValues;
}

/** A finding that makes the document unusable. */
export function fault(code: FindingCode, place: string, values: FindingValues = {}): Finding {
  return { code, place, level: 'error', values };
}

/** A finding for the clinic lead to judge. */
export function caution(code: FindingCode, place: string, values: FindingValues = {}): Finding {
  return { code, place, level: 'caution', values };
}

/** The ids that parts of a document refer to. */
export interface Names {
  readonly stages: ReadonlySet<string>;
  readonly steps: ReadonlySet<string>;
  readonly slots: ReadonlySet<string>;
  readonly cautions: ReadonlySet<string>;
  readonly sources: ReadonlySet<string>;
  readonly waysBack: ReadonlySet<string>;
}

const idsOf = (items: readonly { readonly id: string }[]): ReadonlySet<string> =>
  new Set(items.map((item) => item.id));

export function namesOf(protocol: Protocol): Names {
  return {
    stages: idsOf(protocol.stages),
    steps: idsOf(protocol.steps),
    slots: idsOf(protocol.slots),
    cautions: idsOf(protocol.cautions),
    sources: idsOf(protocol.sources),
    waysBack: idsOf(protocol.waysBack),
  };
}
