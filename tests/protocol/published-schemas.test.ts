import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/base/problem.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { publishedSchemas } from '../tools/published-schemas.ts';
import { caseText, type Json, json, mutationsOf, sharedText, templateText } from './documents.ts';

// Outside reference: JSON Schema 2020-12 as the ajv validator reads it.

const validator = (file: string) =>
  new Ajv2020({ strict: true, allowUnionTypes: true }).compile(JSON.parse(sharedText(file)));

interface Pair {
  readonly file: string;
  readonly document: Json;
  readonly accepts: (value: Json) => boolean;
}

/** Doubled teeth and ids are no matter of shape, so a JSON Schema cannot know them. */
const acceptsCase = (value: Json): boolean => {
  const parsed = parseCase(value);
  // What only the whole case can tell is no matter of shape: an id twice, a tooth of no unit.
  const isMeaning = ({ code, place }: Problem) =>
    code === 'duplicate' || (code === 'unknown' && place.startsWith('case.teeth['));
  return parsed.ok || parsed.error.every(isMeaning);
};

const pairs: readonly Pair[] = [
  {
    file: 'protocol.schema.json',
    document: json(templateText()),
    accepts: (value) => parseProtocol(value).ok,
  },
  {
    file: 'case.schema.json',
    document: json(caseText('eight-upper-veneers')),
    accepts: acceptsCase,
  },
  { file: 'case.schema.json', document: json(caseText('two-veneers')), accepts: acceptsCase },
];

describe('published JSON Schemas', () => {
  it.each(publishedSchemas())(
    '$file in shared/ is what the parser is made of',
    ({ file, text }) => {
      expect(sharedText(file), 'write it anew: npx tsx tests/tools/write-schemas.ts').toBe(text);
    },
  );

  it.each(pairs)('an outside validator accepts the shipped document with $file', (pair) => {
    const validate = validator(pair.file);
    expect(validate(pair.document), JSON.stringify(validate.errors)).toBe(true);
    expect(pair.accepts(pair.document)).toBe(true);
  });

  it.each(pairs)(
    'parser and outside validator agree on 500 changed documents, $file',
    (pair) => {
      const validate = validator(pair.file);
      const seen = { accepted: 0, refused: 0 };
      fc.assert(
        fc.property(mutationsOf(pair.document), (changed) => {
          const isAccepted = validate(changed);
          seen[isAccepted ? 'accepted' : 'refused'] += 1;
          expect(pair.accepts(changed)).toBe(isAccepted);
        }),
        { numRuns: 500 },
      );
      // Both answers must have been asked for, or agreement would mean nothing.
      expect(Math.min(seen.accepted, seen.refused)).toBeGreaterThan(25);
    },
    60_000,
  );
});
