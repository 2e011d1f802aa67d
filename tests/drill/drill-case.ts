/** A prepared case that ships, as a drill takes it. */

import blueLight from '../../shared/tables/blue-light-hazard.json' with { type: 'json' };
import crowns from '../../shared/tables/crown-dimensions.json' with { type: 'json' };
import ceramics from '../../shared/tables/transmittances.json' with { type: 'json' };
import type { DrillCase } from '../../src/drill/hands.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { hashText } from '../../src/storage/hash-chain.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';

export function drillCaseOf(name: string): DrillCase {
  const spec = caseNamed(name);
  const protocol = protocolNamed(spec.protocol);
  const tables = parsePlanTables({ blueLight, crowns, ceramics });
  if (!tables.ok) throw new Error(JSON.stringify(tables.error));
  return {
    spec,
    protocol,
    protocolHash: hashText(canonicalText(protocol)),
    plan: makeRunPlan(spec, protocol, tables.value),
    tell: tellReadBack,
  };
}
