import { toJsonSchema } from '@valibot/to-json-schema';
import {
  entrySchema,
  eventSchema,
  journalSchema,
  planSchema,
  stampSchema,
} from '../../src/export/schema-journal.ts';
import { caseSchema } from '../../src/protocol/schema-case.ts';
import { basisSchema, idSchema } from '../../src/protocol/schema-parts.ts';
import { protocolSchema } from '../../src/protocol/schema-protocol.ts';

const DEFINITIONS = {
  id: idSchema,
  basis: basisSchema,
  case: caseSchema,
  protocol: protocolSchema,
  stamp: stampSchema,
  plan: planSchema,
  event: eventSchema,
  entry: entrySchema,
};

/** The published JSON Schema of an exported journal, made from what the parser itself uses. */
export function publishedJournalSchema(): string {
  const body = toJsonSchema(journalSchema, {
    target: 'draft-2020-12',
    errorMode: 'throw',
    definitions: DEFINITIONS,
  });
  const head = {
    $schema: body.$schema,
    $id: 'urn:lutewatch:journal:1',
    title: 'Lutewatch journal, format version 1',
  };
  return `${JSON.stringify({ ...head, ...body }, null, 2)}\n`;
}
