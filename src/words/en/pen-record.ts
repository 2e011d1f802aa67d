/** What a record says of the tablets that a case was pressed on, and of a second end. */
import type { PenTaken } from '../../engine/pen-types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

interface Part {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

interface Taken {
  readonly fromName: string;
  readonly at: string;
  readonly by: string;
}

export const penRecord = {
  title: 'Tablets',
  unnamed: (id: string): string => `tablet ${id}`,
  unknown: 'a tablet that is not named',
  whoever: 'whoever takes it',
  part: ({ name, from, to }: Part): string =>
    from === to ? `${name}: press ${from}` : `${name}: presses ${from} to ${to}`,
  taken: {
    given: ({ fromName, at, by }: Taken): string => `taken from ${fromName} at ${at}, ${by}`,
    closed: ({ fromName, at, by }: Taken): string =>
      `taken from ${fromName} after the signature at ${at}, ${by}`,
    gone: ({ fromName, at, by }: Taken): string =>
      `taken over at ${at}, ${by}, while ${fromName} was not heard of; what was pressed there and had not arrived is not in this record`,
  } satisfies Record<PenTaken['from'], (o: Taken) => string>,
  reason: (words: string): string => `Reason: ${words}`,
  given: (o: { readonly to: string; readonly at: string; readonly by: string }): string =>
    `given up to ${o.to} at ${o.at}, ${o.by}`,
  theApp: 'the app',
  secondEnds: 'Second end',
  whatWasPressed: 'What was pressed in it',
  secondEnd: (o: {
    readonly name: string;
    readonly presses: number;
    readonly common: number;
  }): string =>
    plural(o.presses, {
      one: `A second end of 1 press is kept apart: ${o.name}, after entry ${o.common}. It does not count in this record.`,
      other: `A second end of ${o.presses} presses is kept apart: ${o.name}, after entry ${o.common}. They do not count in this record.`,
    }),
  extent: (o: { readonly entries: number; readonly since: string }): string =>
    plural(o.entries, {
      one: `1 entry, from ${o.since} by the clock of that tablet.`,
      other: `${o.entries} entries, the first from ${o.since} by the clock of that tablet.`,
    }),
  standing: {
    left: 'The case was taken over and goes on with the end in this record.',
    'without-pen': 'That tablet did not hold the pen at that place.',
    unclear:
      'Nobody took the case over at that place: which end is the right one is not known here.',
  },
  pressed: (o: { readonly at: string; readonly by: string; readonly what: string }): string =>
    `${o.at}, ${o.by}: ${o.what}`,
};
