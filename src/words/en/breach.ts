/** A limit that was not kept: by how much. Never whose fault. */
import type { Breach } from '../../engine/types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

type Span = (span: string) => string;

export const breach = {
  amount: {
    short: (span: string): string => `short of the minimum by ${span}`,
    over: (span: string): string => `over the limit by ${span}`,
    early: (span: string): string => `ended ${span} too early`,
    late: (span: string): string => `outside the window by ${span}`,
    'exposure-short': (span: string): string => `exposure short by ${span}`,
    'gap-short': (span: string): string => `time between coats short by ${span}`,
    'rest-short': (span: string): string => `rest between exposures short by ${span}`,
  } satisfies Record<Exclude<Breach['kind'], 'passes-over'>, Span>,
  /** The limit lies inside what is known. */
  perhaps: {
    short: (by: string): string => `may be short of the minimum, ${by}`,
    over: (by: string): string => `may be over the limit, ${by}`,
    early: (by: string): string => `may have ended too early, ${by}`,
    late: (by: string): string => `may be outside the window, ${by}`,
    'gap-short': (by: string): string => `time between coats may be short, ${by}`,
    'rest-short': (by: string): string => `rest between exposures may be short, ${by}`,
  },
  byUpTo: (span: string): string => `by up to ${span}`,
  byUnknown: 'nobody knows by how much',
  passesOver: (count: number): string =>
    plural(count, { one: '1 pass over the limit', other: `${count} passes over the limit` }),
  /** In the place of a span that nobody knows. */
  unknown: 'an unknown time',
  /** For a narrow cell. */
  over: (span: string): string => `${span} over`,
  short: (span: string): string => `${span} short`,
  perhapsOver: (span: string): string => `may be ${span} over`,
  perhapsShort: (span: string): string => `may be ${span} short`,
  gapShort: (span: string): string => `between coats ${span} short`,
  restShort: (span: string): string => `rest ${span} short`,
  perhapsGapShort: (span: string): string => `between coats may be ${span} short`,
  perhapsRestShort: (span: string): string => `rest may be ${span} short`,
  told: (o: { readonly title: string; readonly amount: string }): string =>
    `${o.title}, ${o.amount}`,
  toldOf: (o: {
    readonly subject: string;
    readonly title: string;
    readonly amount: string;
  }): string => `${o.subject}: ${o.title}, ${o.amount}`,
};
