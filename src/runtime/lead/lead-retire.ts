/** Taking revisions out of use, by hand with a reason or because a newer one follows; and back into use. */
import type { Problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from './lead-documents.ts';
import type { ProtocolSaid, Revision } from './lead-revisions.ts';
import { refusedReturn } from './lead-second.ts';
import type { DeskHand } from './recall-desk.ts';

type Done<T> = Promise<Result<T, Problem>>;

/** What retiring needs of the desk. */
export interface RetireHand extends DeskHand {
  readonly nowWallMs: () => number;
  readonly say: (item: string, said: readonly ProtocolSaid[]) => Done<null>;
}

/** Errors: what the desk or the store refuses. */
export async function retireRevision(
  hand: RetireHand,
  protocol: Protocol,
  { reason, followedBy }: { readonly reason: string; readonly followedBy?: string },
): Done<null> {
  const epoch = hand.atDesk();
  if (!epoch.ok) return epoch;
  const { id, revision } = protocol;
  const hash = protocolHash(protocol);
  const said = { hash, by: hand.by(), onWallMs: hand.nowWallMs(), reason };
  const kept = await hand.say(id, [
    { type: 'retired', ...said, ...(followedBy !== undefined && { followedBy }) },
  ]);
  return kept.ok ? hand.log('retired', { protocol: id, revision, hash, reason }) : kept;
}

/** Retires what is in force under the id of a revision that was just confirmed. */
export async function retireOlder(
  hand: RetireHand,
  by: Protocol,
  revisions: readonly Revision[],
): Done<null> {
  for (const { protocol, approval, retirement } of revisions) {
    if (protocol.id !== by.id || approval === null || retirement !== null) continue;
    const reason = `followed by revision ${by.revision}`;
    await retireRevision(hand, protocol, { reason, followedBy: protocolHash(by) });
  }
  return ok(null);
}

/**
 * Puts a revision that was retired back in force; only what is named here is taken back. Errors: `no-second`
 * where two confirm and one alone confirmed it, and what the desk or the store refuses.
 */
export async function bringBackRevision(
  hand: RetireHand,
  revision: Revision,
  { asksSecond }: { readonly asksSecond: boolean },
): Done<null> {
  const epoch = hand.atDesk();
  if (!epoch.ok) return epoch;
  const no = asksSecond ? refusedReturn(revision) : null;
  if (no !== null) return err(no);
  const { protocol, hash, retirement } = revision;
  const of = [...(retirement?.facts ?? [])];
  const said = await hand.say(protocol.id, [{ type: 'back-in-force', of }]);
  if (!said.ok) return said;
  return hand.log('back-in-force', { protocol: protocol.id, revision: protocol.revision, hash });
}
