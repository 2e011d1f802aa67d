/** What the shelf will lack before the prepared cases, as of now. */
import { type CaseAhead, shelfAhead } from '../../runtime/stock/shelf-ahead.ts';
import { useStock } from './materials-hooks.ts';
import { useApp, useTimes } from './session-context.ts';

export function useShelfAhead(nowMs: number): readonly CaseAhead[] {
  const materials = useStock((s) => s.materials);
  const prepared = useApp((s) => s.prepared);
  const entries = useApp((s) => s.protocols);
  const times = useTimes();
  const protocols = entries.map(({ protocol }) => protocol);
  return shelfAhead({ prepared, protocols, materials, times, nowMs });
}
