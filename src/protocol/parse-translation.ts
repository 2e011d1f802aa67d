/**
 * The only way from unknown data to a {@link Translation}: the texts of one protocol in another
 * language, each under the hash of the text that it translates. A file that goes with no protocol
 * on the tablet does no harm; a text that changed since finds no translation.
 */
import * as v from 'valibot';
import { deepFreeze } from '../base/freeze.ts';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { unseenFaults } from './document-problems.ts';
import { languageSchema } from './language-tag.ts';
import { readOutside } from './read-outside.ts';
import { idSchema, record, text } from './schema-parts.ts';

export interface Translation {
  /** Id of the protocol. */
  readonly protocol: string;
  /** BCP 47 tag of the language that it is translated into. */
  readonly language: string;
  /** Lower-case hex SHA-256 of the UTF-8 bytes of each text, and what it is in this language. */
  readonly texts: Readonly<Record<string, string>>;
}

const NAME = 'translation';
const hashWords = 'the SHA-256 of a text as 64 small hex digits';

const translationSchema = record(
  {
    protocol: idSchema,
    language: languageSchema,
    texts: v.record(
      v.pipe(v.string(hashWords), v.regex(/^[0-9a-f]{64}$/, hashWords)),
      text('the translated text'),
      'translated texts by the hash of what they translate',
    ),
  },
  'a translation { protocol, language, texts }',
);

/** Reads a translation. Errors: at most twenty problems, the most telling first, each with its place. */
export function parseTranslation(input: unknown): Result<Translation, readonly Problem[]> {
  const parsed = readOutside(translationSchema, input, NAME);
  if (!parsed.ok) return parsed;
  const faults = unseenFaults({ input, output: parsed.value }, NAME);
  return faults.length > 0 ? err(faults) : ok(deepFreeze(parsed.value));
}
