/**
 * Languages of documents, as BCP 47 tags. The form is that of RFC 5646, section 2.1, without private
 * and grandfathered tags; whether a subtag is registered is not asked.
 */
import * as v from 'valibot';

/** What a document without a `language` is written in. */
export const LANGUAGE_WHEN_ABSENT = 'en';

/** Longest tag that every reader must take, RFC 5646, section 4.4.1. */
const TAG_LENGTH_MAX = 35;
const tagWords = 'a BCP 47 language tag such as "en" or "de-AT"';

export const languageSchema = v.pipe(
  v.string(tagWords),
  v.maxLength(TAG_LENGTH_MAX, tagWords),
  v.regex(
    /^([A-Za-z]{2,3}(-[A-Za-z]{3}){0,3}|[A-Za-z]{4,8})(-[A-Za-z]{4})?(-([A-Za-z]{2}|[0-9]{3}))?(-([A-Za-z0-9]{5,8}|[0-9][A-Za-z0-9]{3}))*(-[0-9A-WY-Za-wy-z](-[A-Za-z0-9]{2,8})+)*(-[Xx](-[A-Za-z0-9]{1,8})+)?$/,
    tagWords,
  ),
);

/** The language that a document is written in. */
export const languageOf = ({ language }: { readonly language?: string }): string =>
  language ?? LANGUAGE_WHEN_ABSENT;

/**
 * Whether who reads `range` reads `tag` as it stands: `en` reads `en-GB`, `de` does not read `en`.
 * Basic filtering of RFC 4647, section 3.3.1; letter case does not count.
 */
export function reads(range: string, tag: string): boolean {
  const [wanted, given] = [range.toLowerCase(), tag.toLowerCase()];
  return given === wanted || given.startsWith(`${wanted}-`);
}
