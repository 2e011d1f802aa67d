import { useEffect, useState } from 'react';
import type { Replan } from '../../plan/replan.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { replanWords } from '../../words/plan-words.ts';
import { namingOf } from '../shared/arch-model.ts';
import { usePlanner } from '../shared/session-context.ts';
import { restLine, waitLine } from './beside-model.ts';
import { overdueMixes } from './overdue-mixes.ts';

/** While nobody presses the plan is asked again after so long, or it would still say "on plan". */
const ASK_AGAIN_MS = 60_000;

/** Where now stands against the plan; worked out anew after each press and each minute, away from the screen. */
export function AgainstPlan({ running }: { readonly running: RunningCase }) {
  const planner = usePlanner();
  const [found, setFound] = useState<Replan | null>(null);
  const { records, state } = running.log;
  const nowMs = running.view.at.hiMs;
  const minute = Number.isFinite(nowMs) ? Math.floor(nowMs / (ASK_AGAIN_MS * running.speed)) : null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a press or a minute asks anew, a passing second does not.
  useEffect(() => {
    // With no upper end there is nothing to plan from, until people say how long it was.
    if (!Number.isFinite(nowMs)) setFound(null);
    else if (!state.closed) planner?.replan(state, nowMs, setFound);
  }, [planner, records.length, minute]);
  if (!found || state.closed) return null;
  const words = replanWords(found, namingOf(running), overdueMixes(running));
  const wait = waitLine(running, found);
  return (
    <>
      {wait !== null && <p className="chair-put-off">{wait}</p>}
      {words !== null && <p className="chair-against-plan">{words}</p>}
      <p className="chair-against-plan">{restLine(running, found)}</p>
    </>
  );
}
