/**
 * Asks whether a new template corrects something in a confirmed revision that the clinic lead has not
 * answered. What is needed for the answer is loaded only where a confirmed revision is in force.
 */
import type { Journal } from '../../storage/journal-types.ts';
import type { OpenCorrections, ProtocolEntry } from '../app-state.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { Shipped } from '../library/library.ts';

/** A file that does not come must keep nobody from the first screen, nor from beginning a case. */
const WAIT_MS_MAX = 2_000;

export async function unansweredOf(
  o: {
    readonly journal: Journal;
    readonly shipped: Shipped;
    readonly timers: Pick<TimerHost, 'after'>;
  },
  protocols: readonly ProtocolEntry[],
): Promise<readonly OpenCorrections[]> {
  const confirmed = protocols.filter((p) => p.approval !== null && p.origin === 'own');
  if (confirmed.length === 0 || o.shipped.corrections === undefined) return [];
  const { journal, shipped, timers } = o;
  let isOver: () => void = () => undefined;
  const tooLate = new Promise<readonly OpenCorrections[]>((resolve) => {
    isOver = timers.after(WAIT_MS_MAX, () => resolve([]));
  });
  const found = import('./lead-corrections.ts')
    .then(({ readUnanswered }) => readUnanswered({ journal, shipped, protocols: confirmed }))
    .catch((): readonly OpenCorrections[] => []);
  const first = await Promise.race([found, tooLate]);
  isOver();
  return first;
}
