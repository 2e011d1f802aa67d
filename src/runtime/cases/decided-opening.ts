/** What a case is opened with, and what keeps it from being opened. Wanted when a case is opened, not when the app is. */
import { err, type Result } from '../../base/result.ts';
import { decideOpening } from '../../engine/decide.ts';
import { makeRunPlan } from '../../plan/run-plan.ts';
import { unansweredOf } from '../lead/unanswered.ts';
import {
  type CaseOpening,
  type NotBegun,
  openingPlace,
  type SessionParts,
  unknownProtocol,
} from '../session-parts.ts';
import { patientRuns, whyNotBegun } from './case-opening.ts';

type Decided = ReturnType<typeof decideOpening>;

/**
 * The events that a case is opened with. Errors: `unknown-protocol`, why a patient's case is not begun, what the
 * clinic lead has not answered, and what the engine refuses.
 */
export async function decidedOpening(
  parts: SessionParts,
  o: CaseOpening,
  chair: Parameters<typeof patientRuns>[0],
): Promise<Result<Extract<Decided, { readonly ok: true }>['value'], NotBegun>> {
  const { journal, store, clock, shipped } = parts;
  const { mode, spec } = o;
  const { protocols, settings } = store.getState();
  const entry = o.draft ?? protocols.find((p) => p.protocol.id === spec.protocol);
  if (!entry) return err(unknownProtocol(spec.protocol));
  const { protocol, hash, approval } = entry;
  if (mode === 'patient') {
    const kept = await whyNotBegun(journal, { ...o, protocol, nowMs: clock.stamp().wallMs });
    if (!kept.ok) return kept;
    if (kept.value !== null) return err(kept.value);
  }
  const runs = patientRuns(chair);
  if (runs !== null) return err(runs);
  const plan = makeRunPlan(spec, protocol, shipped.tables);
  const [open] = mode === 'patient' ? await unansweredOf(parts, [entry]) : [];
  const told = open === undefined ? {} : { unanswered: open.unanswered };
  const about = { mode, spec, protocol, protocolHash: hash, approval, plan };
  const decided = decideOpening({ ...about, ...openingPlace(settings), ...told });
  if (!decided.ok) return decided;
  const isToldFirst = open !== undefined && o.allTheSame !== true;
  return isToldFirst ? err({ code: 'corrections-open', unanswered: open.unanswered }) : decided;
}
