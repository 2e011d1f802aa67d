/** The documents that the project ships, parsed, for tests and benchmarks of the plan. */
import { readFileSync } from 'node:fs';
import { type PlanTables, parsePlanTables } from '../../src/plan/plan-tables.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';

const ROOT = new URL('../../', import.meta.url);

function read(path: string): unknown {
  return JSON.parse(readFileSync(new URL(path, ROOT), 'utf8'));
}

export function shippedTables(): PlanTables {
  const tables = parsePlanTables({
    blueLight: read('shared/tables/blue-light-hazard.json'),
    crowns: read('shared/tables/crown-dimensions.json'),
    ceramics: read('shared/tables/transmittances.json'),
  });
  if (!tables.ok) throw new Error(JSON.stringify(tables.error));
  return tables.value;
}

export function shippedProtocol(): Protocol {
  const file = 'shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json';
  const parsed = parseProtocol(read(file));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

export function shippedCase(id: 'eight-upper-veneers' | 'two-veneers'): CaseFile {
  const parsed = parseCase(read(`demo-data/cases/${id}.json`));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}
