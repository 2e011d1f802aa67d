/**
 * A visit that ends before its work does: one press skips everything that is left, with one reason. What
 * the protocol proposes for work that is broken off stands in the same press, so that the record has
 * it as it was read. Only the signature is still asked for.
 */
import { err, ok, type Result } from '../base/result.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { type Instance, layoutOf } from './layout.ts';
import { isLeft, skipsOf } from './skip-left.ts';
import { StatusReader } from './status.ts';
import type { CaseEvent, CaseState } from './types.ts';
import { type WayBackOffer, waysBackNow } from './ways-back.ts';

/** The step that ends a protocol by the dentist's word on the whole case; undefined where none does. */
export function signingStep({ steps }: Protocol): Step | undefined {
  const last = steps.at(-1);
  const isSigning = last?.per === 'case' && last.by === 'dentist' && last.action.kind === 'confirm';
  return isSigning ? last : undefined;
}

/** Everything that applies and is not done, but for the signature. */
export function unfinished(state: CaseState): readonly Instance[] {
  const layout = layoutOf(state);
  const statuses = new StatusReader(state, layout);
  const signing = signingStep(layout.protocol);
  return layout.instances.filter((i) => i.step.id !== signing?.id && isLeft(statuses.of(i)));
}

/** What the protocol proposes for work that is broken off now. */
export const stoppedProposals = (state: CaseState): readonly WayBackOffer[] =>
  waysBackNow(state, layoutOf(state), 'stopped');

export function decideStopVisit(
  state: CaseState,
  c: Extract<Command, { do: 'stop-visit' }>,
): Result<readonly CaseEvent[], Refusal> {
  const reason = c.reason.trim();
  if (reason === '') return err(refusal('reason-missing'));
  const left = unfinished(state);
  const lit = left.find(({ key }) => state.runs[key]?.lit);
  if (lit) return err(refusal('light-is-on', { step: lit.step.id, subject: lit.subject }));
  if (left.length === 0) return err(refusal('already-done', { step: '', subject: '' }));
  const proposals = stoppedProposals(state).map(({ wayBack, subjects }) => ({
    wayBack: wayBack.id,
    subjects,
  }));
  return ok([{ type: 'visit-stopped', reason, proposals }, ...skipsOf(left, reason)]);
}
