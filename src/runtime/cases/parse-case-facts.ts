/** Reads what was once worked out from a case and kept; anything else is worked out anew. */

import { fieldsOf } from '../lead/lead-documents.ts';
import type { CaseFacts, UsedLot } from './cases-list-facts.ts';

/** Goes up when the facts of a case change, so that older ones are worked out anew. */
export const FACTS_VERSION = 2;

/** As it is kept. */
export type KeptFacts = CaseFacts & { readonly factsVersion: number };

const isText = (value: unknown): value is string => typeof value === 'string';
const isTexts = (value: unknown): value is readonly string[] =>
  Array.isArray(value) && value.every(isText);

const LOT_TEXTS = ['slot', 'slotLabel', 'materialClass', 'label', 'lot'] as const;

function isLot(value: unknown): value is UsedLot {
  const fields = fieldsOf(value);
  return LOT_TEXTS.every((key) => isText(fields[key])) && isTexts(fields['steps']);
}

const FACT_TEXTS = ['caseId', 'head', 'title', 'chartRef', 'protocol'] as const;

function isFacts(value: unknown): value is CaseFacts {
  const fields = fieldsOf(value);
  return (
    fields['factsVersion'] === FACTS_VERSION &&
    FACT_TEXTS.every((key) => isText(fields[key])) &&
    (fields['mode'] === 'patient' || fields['mode'] === 'rehearsal') &&
    typeof fields['openedWallMs'] === 'number' &&
    typeof fields['isClosed'] === 'boolean' &&
    typeof fields['breaches'] === 'number' &&
    isTexts(fields['teeth']) &&
    isTexts(fields['people']) &&
    Array.isArray(fields['lots']) &&
    fields['lots'].every(isLot)
  );
}

/** Facts that were kept; null when they are of another version or no facts at all. */
export function parseCaseFacts(value: unknown): CaseFacts | null {
  if (!isFacts(value)) return null;
  const { caseId, head, title, chartRef, mode, openedWallMs } = value;
  const { isClosed, teeth, people, protocol, lots, breaches } = value;
  return {
    caseId,
    head,
    title,
    chartRef,
    mode,
    openedWallMs,
    isClosed,
    teeth,
    people,
    protocol,
    lots,
    breaches,
  };
}
