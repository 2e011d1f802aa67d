/** Reads what was once worked out from a case and kept; anything else is worked out anew. */

import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { CaseFacts } from './cases-list-facts.ts';

/** Goes up when the facts of a case change, so that older ones are worked out anew. */
export const FACTS_VERSION = 6;

/** As it is kept. */
export type KeptFacts = CaseFacts & { readonly factsVersion: number };

const textsSchema = v.array(v.string());

const factsSchema = v.object({
  factsVersion: v.literal(FACTS_VERSION),
  caseId: v.string(),
  head: v.string(),
  title: v.string(),
  chartRef: v.string(),
  mode: v.picklist(['patient', 'rehearsal']),
  openedWallMs: v.number(),
  isClosed: v.boolean(),
  teeth: textsSchema,
  people: textsSchema,
  protocol: v.string(),
  lots: v.array(
    v.object({
      slot: v.string(),
      slotLabel: v.string(),
      materialClass: v.string(),
      label: v.string(),
      lot: v.string(),
      steps: textsSchema,
    }),
  ),
  note: v.exactOptional(v.string()),
  breaches: v.number(),
  perhaps: v.number(),
});

/** Facts that were kept; null when they are of another version or no facts at all. */
export function parseCaseFacts(value: unknown): CaseFacts | null {
  const kept = parsedOr(factsSchema, value);
  if (kept === null) return null;
  const { factsVersion: _, ...facts } = kept;
  return facts;
}
