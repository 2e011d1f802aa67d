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
  } satisfies Record<Exclude<Breach['kind'], 'passes-over'>, Span>,
  passesOver: (count: number): string =>
    plural(count, { one: '1 pass over the limit', other: `${count} passes over the limit` }),
  /** In the place of a span that nobody knows. */
  unknown: 'an unknown time',
  /** For a narrow cell. */
  over: (span: string): string => `${span} over`,
  short: (span: string): string => `${span} short`,
  told: (o: { readonly title: string; readonly amount: string }): string =>
    `${o.title}, ${o.amount}`,
  toldOf: (o: {
    readonly subject: string;
    readonly title: string;
    readonly amount: string;
  }): string => `${o.subject}: ${o.title}, ${o.amount}`,
};
