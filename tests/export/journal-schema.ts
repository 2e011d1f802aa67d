import { toJsonSchema } from '@valibot/to-json-schema';
import { JOURNALS_FORMAT } from '../../src/export/journals-json.ts';
import {
  entrySchema,
  eventSchema,
  journalSchema,
  planSchema,
  stampSchema,
} from '../../src/export/schema-journal.ts';
import { caseSchema } from '../../src/protocol/schema-case.ts';
import { protocolSchema } from '../../src/protocol/schema-protocol.ts';

const DEFINITIONS = {
  case: caseSchema,
  protocol: protocolSchema,
  stamp: stampSchema,
  plan: planSchema,
  event: eventSchema,
  entry: entrySchema,
};

/** What has a published schema of its own is referred to by that schema's name. */
const ELSEWHERE: Readonly<Record<string, string>> = {
  '#/$defs/case': 'urn:lutewatch:case:1',
  '#/$defs/protocol': 'urn:lutewatch:protocol:1',
};

/**
 * The published JSON Schema of an exported journal, made from what the parser itself uses. A
 * validator is given the schemas of the case file and of the protocol beside it.
 */
export function publishedJournalSchema(): string {
  const { $defs, ...body } = toJsonSchema(journalSchema, {
    target: 'draft-2020-12',
    errorMode: 'throw',
    definitions: DEFINITIONS,
  });
  const { case: _case, protocol: _protocol, ...own } = $defs ?? {};
  const document = {
    $schema: body.$schema,
    $id: 'urn:lutewatch:journal:1',
    title: 'Lutewatch journal, format version 1',
    ...body,
    $defs: own,
  };
  const named = JSON.stringify(
    document,
    (key, value) => (key === '$ref' ? (ELSEWHERE[value] ?? value) : value),
    2,
  );
  return `${named}\n`;
}

/** The published JSON Schema of a file with many journals; each is a journal as above. */
export function publishedJournalsSchema(): string {
  const document = {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: 'urn:lutewatch:journals:1',
    title: 'Many Lutewatch journals in one file, format version 1',
    type: 'object',
    properties: {
      format: { const: JOURNALS_FORMAT },
      formatVersion: { const: 1 },
      count: { type: 'integer', minimum: 0 },
      journals: { type: 'array', items: { $ref: 'urn:lutewatch:journal:1' } },
    },
    required: ['format', 'formatVersion', 'count', 'journals'],
    additionalProperties: false,
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}
