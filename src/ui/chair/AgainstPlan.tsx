import { useEffect, useState } from 'react';
import type { Replan } from '../../plan/replan.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { replanWords } from '../../words/plan-words.ts';
import { namingOf } from '../shared/arch-model.ts';
import { usePlanner } from '../shared/session-context.ts';
import { restLine } from './beside-model.ts';
import { overdueMixes } from './overdue-mixes.ts';

/** Where now stands against the plan; worked out anew after each press, away from the screen. */
export function AgainstPlan({ running }: { readonly running: RunningCase }) {
  const planner = usePlanner();
  const [found, setFound] = useState<Replan | null>(null);
  const { records, state } = running.log;
  const nowMs = running.view.at.hiMs;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a press asks anew, a passing second does not.
  useEffect(() => {
    // With no upper end there is nothing to plan from, until people say how long it was.
    if (!Number.isFinite(nowMs)) setFound(null);
    else if (!state.closed) planner?.replan(state, nowMs, setFound);
  }, [planner, records.length]);
  if (!found || state.closed) return null;
  const words = replanWords(found, namingOf(running), overdueMixes(running));
  return (
    <>
      {words !== null && <p className="chair-against-plan">{words}</p>}
      <p className="chair-against-plan">{restLine(running, found)}</p>
    </>
  );
}
