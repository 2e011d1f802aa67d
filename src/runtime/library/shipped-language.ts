/**
 * The language of this build and the translations of protocols that ship: a build in another
 * language puts another file in the place of this one.
 */
import type { TranslationFiles } from './translations.ts';

/** BCP 47 tag. */
export const LANGUAGE: string = 'en';

/** What gives the address of each file; only those of the language that is spoken are fetched. */
export const TRANSLATIONS: TranslationFiles = import.meta.glob(
  '../../../shared/protocols/translations/*/*.json',
  { query: '?packed', import: 'default' },
);
