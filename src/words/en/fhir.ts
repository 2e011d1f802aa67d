/**
 * What a person reads in the Observations of a FHIR bundle. What a reader finds a value by stays the
 * same in every language, and stands with the code.
 */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const fhir = {
  teeth: (teeth: readonly string[]): string => `Teeth ${teeth.join(', ')} (ISO 3950)`,
  titled: (o: { readonly title: string; readonly subject: string }): string =>
    `${o.title}, ${o.subject}`,
  skipped: (reason: string): string => `Skipped: ${reason}`,
  voided: (reason: string): string => `No longer counts: ${reason}`,
  noTime: (title: string): string => `${title}: no time`,
  elapsed: (o: { readonly title: string; readonly length: string }): string =>
    `${o.title}: ${o.length} elapsed`,
  given: (o: { readonly title: string; readonly length: string }): string =>
    `${o.title}: ${o.length} exposure given`,
  window: (o: {
    readonly title: string;
    readonly length: string;
    readonly state: string;
  }): string => `${o.title}: ${o.length} elapsed, ${o.state}`,
  notTimed: 'Not timed',
  found: (o: {
    readonly unit: string;
    readonly day: string;
    readonly findings: readonly string[];
  }): string => `Unit ${o.unit}, ${o.day}: ${o.findings.join(', ')}`,
  notSeen: 'Not seen',
  corrected: (reason: string): string => (reason === '' ? 'Corrected' : `Corrected: ${reason}`),
  struck: (reason: string): string => (reason === '' ? 'Struck' : `Struck: ${reason}`),
  differs: 'Two tablets tell this visit differently.',
  contradicts: {
    'same-day': 'Visits of this day found different things.',
    'after-gone': 'One visit found it gone, a later one in place.',
  },
  secondEnd: (o: { readonly name: string; readonly entries: number }): string =>
    plural(o.entries, {
      one: `1 entry of ${o.name} is kept apart as a second end`,
      other: `${o.entries} entries of ${o.name} are kept apart as a second end`,
    }),
};
