/**
 * A unit that is cracked, lost or sent back: everything that is still to be done to it, to its
 * teeth, and to a mix or a contact that belongs to no other unit is skipped at once, with the reason
 * at each step. What is shared, and everything done to the whole case, stays for the others.
 */
import { err, ok, type Result } from '../base/result.ts';
import { unitSubject } from '../protocol/subjects.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { type Instance, layoutOf } from './layout.ts';
import { isLeft, skipsOf } from './skip-left.ts';
import { StatusReader } from './status.ts';
import type { CaseEvent, CaseState } from './types.ts';

const SCOPES = ['unit', 'tooth', 'mix', 'contact'];

/** What is left of one unit, step by step in document order. */
function leftOf(state: CaseState, unit: string): readonly Instance[] {
  const layout = layoutOf(state);
  const statuses = new StatusReader(state, layout);
  const subject = unitSubject(unit);
  return layout.instances.filter((i) => {
    if (!SCOPES.includes(i.step.per) || !isLeft(statuses.of(i))) return false;
    const units = layout.subjects.linked(i.subject, 'unit');
    return units.length === 1 && units[0] === subject;
  });
}

/** One skip for each step that is left of the unit. */
export function decideSetAside(
  state: CaseState,
  c: Extract<Command, { do: 'set-aside' }>,
): Result<readonly CaseEvent[], Refusal> {
  const { unit } = c;
  const reason = c.reason.trim();
  if (!state.plan.order.includes(unit)) return err(refusal('unknown-unit', { unit }));
  if (reason === '') return err(refusal('reason-missing', { unit }));
  const left = leftOf(state, unit);
  if (left.length === 0) return err(refusal('already-done', { step: '', subject: unit }));
  return ok(skipsOf(left, reason));
}
