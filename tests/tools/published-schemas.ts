import { toJsonSchema } from '@valibot/to-json-schema';
import { scriptSchema } from '../../src/plan/schema-script.ts';
import { caseSchema, lightSchema } from '../../src/protocol/schema-case.ts';
import {
  basisSchema,
  countFigureSchema,
  dateSchema,
  doseFigureSchema,
  durationFigureSchema,
  idSchema,
} from '../../src/protocol/schema-parts.ts';
import { protocolSchema } from '../../src/protocol/schema-protocol.ts';
import { actionSchema, momentSchema, stepSchema } from '../../src/protocol/schema-step.ts';

/** The JSON Schemas that are published for other programs, made from what the parser itself uses. */

const PROTOCOL_DEFINITIONS = {
  id: idSchema,
  date: dateSchema,
  basis: basisSchema,
  durationFigureMs: durationFigureSchema,
  countFigure: countFigureSchema,
  doseFigureJPerCm2: doseFigureSchema,
  moment: momentSchema,
  action: actionSchema,
  step: stepSchema,
};

const CASE_DEFINITIONS = { id: idSchema, date: dateSchema, light: lightSchema };

const SCRIPT_DEFINITIONS = { id: idSchema };

function published(head: object, body: object): string {
  return `${JSON.stringify({ ...head, ...body }, null, 2)}\n`;
}

/** File name in `shared/` and its whole text. */
export function publishedSchemas(): readonly { readonly file: string; readonly text: string }[] {
  const options = { target: 'draft-2020-12', errorMode: 'throw' } as const;
  const protocol = toJsonSchema(protocolSchema, { ...options, definitions: PROTOCOL_DEFINITIONS });
  const caseFile = toJsonSchema(caseSchema, { ...options, definitions: CASE_DEFINITIONS });
  const script = toJsonSchema(scriptSchema, { ...options, definitions: SCRIPT_DEFINITIONS });
  return [
    {
      file: 'protocol.schema.json',
      text: published(
        {
          $schema: protocol.$schema,
          $id: 'urn:lutewatch:protocol:1',
          title: 'Lutewatch protocol, format version 1',
        },
        protocol,
      ),
    },
    {
      file: 'case.schema.json',
      text: published(
        {
          $schema: caseFile.$schema,
          $id: 'urn:lutewatch:case:1',
          title: 'Lutewatch case file, format version 1',
        },
        caseFile,
      ),
    },
    {
      file: 'script.schema.json',
      text: published(
        {
          $schema: script.$schema,
          $id: 'urn:lutewatch:script:1',
          title: 'Lutewatch rehearsal script, format version 1',
        },
        script,
      ),
    },
  ];
}
