import { toJsonSchema } from '@valibot/to-json-schema';
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
