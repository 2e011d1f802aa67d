/**
 * Asks whether a new template corrects something in a confirmed revision that the clinic lead has not
 * answered. What is needed for the answer is loaded only where a confirmed revision is in force.
 */
import type { OpenCorrections, ProtocolEntry } from '../app-state.ts';
import type { UnansweredParts } from './lead-corrections.ts';

export async function unansweredOf(
  parts: UnansweredParts,
  protocols: readonly ProtocolEntry[],
): Promise<readonly OpenCorrections[]> {
  const isAsked = protocols.some((p) => p.approval !== null && p.origin === 'own');
  if (!isAsked || parts.shipped.corrections === undefined) return [];
  const asking = import('./lead-corrections.ts');
  // What cannot be loaded keeps nobody from the first screen, nor from beginning a case.
  return asking.then((m) => m.readUnansweredInTime(parts, protocols)).catch(() => []);
}
