/** How teeth, units, contacts and portions of cement are called. */
import type { Scope, Surface } from '../../protocol/types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

/** By how far a tooth stands from the midline, from 1. */
const KINDS = [
  'central incisor',
  'lateral incisor',
  'canine',
  'first premolar',
  'second premolar',
  'first molar',
  'second molar',
  'third molar',
];

export const surface = {
  facial: 'facial',
  incisal: 'incisal',
  occlusal: 'occlusal',
  mesial: 'mesial',
  distal: 'distal',
  lingual: 'lingual',
} satisfies Record<Surface, string>;

export const subject = {
  toothName: (o: {
    readonly jaw: 'upper' | 'lower';
    readonly side: 'right' | 'left';
    readonly position: number;
  }): string => `${o.jaw} ${o.side} ${KINDS[o.position - 1] ?? ''}`,
  portion: (number: string): string => `portion ${number}`,
  /** The same where it stands by itself. */
  portionAlone: (number: string): string => `Portion ${number}`,
  /** A few, one after another. */
  few: (labels: readonly string[]): string => labels.join(', '),
  many: {
    case: () => '',
    tooth: (count: number): string => plural(count, { one: '1 tooth', other: `${count} teeth` }),
    unit: (count: number): string => plural(count, { one: '1 unit', other: `${count} units` }),
    contact: (count: number): string =>
      plural(count, { one: '1 contact', other: `${count} contacts` }),
    mix: (count: number): string => plural(count, { one: '1 portion', other: `${count} portions` }),
  } satisfies Record<Scope, (count: number) => string>,
};
