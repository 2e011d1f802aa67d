import type { RunningCase } from '../../runtime/app-state.ts';
import { CaseDamaged } from '../shared/CaseDamaged.tsx';

/** What the case on the chair has lost, and that it goes on all the same. */
export function ChairDamage({ running }: { readonly running: RunningCase }) {
  return <CaseDamaged caseId={running.caseId} goesOn={!running.log.state.closed} />;
}
