/**
 * A patient's case of one unit up to its signature, on revisions that a lead has confirmed, as a
 * backup: what a browser is given to go on from, without the hour that it takes to press it.
 */
import { webcrypto } from 'node:crypto';
import { present } from '../../src/base/assert.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { nextMove } from '../../src/plan/follow.ts';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import type { Session } from '../../src/runtime/session.ts';
import { caseNamed, protocolNamed, withUnits } from '../families/family-chair.ts';
import { instruction } from '../lead/lead-support.ts';
import { type FakeTime, fakeTime, settle } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';

export const TITLE = 'One veneer';
/** An invented passphrase for a test file. */
export const PASSPHRASE = 'ebb tide over quiet sand';

function must<T>(result: { ok: true; value: T } | { ok: false; error: unknown }): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

/** Confirms these protocols as they are shipped, every figure checked against an instruction. */
async function confirmAll(session: Session, ids: readonly string[]): Promise<void> {
  const desk = await session.lead();
  must(await desk.setPassphrase({ person: 'Lead L', passphrase: PASSPHRASE }));
  for (const id of ids) {
    const draftId = must(await desk.beginDraft(protocolNamed(id)));
    const draft = present(
      desk.state.getState().drafts.find((d) => d.id === draftId),
      'the draft',
    );
    const spots = figuresOf(draft.history.protocol)
      .filter((f) => f.binds)
      .map((f) => f.spot);
    must(
      await desk.saveDraft(
        draftId,
        must(addEdit(draft.history, { do: 'set-basis', spots, basis: instruction })),
      ),
    );
    must(await desk.confirm(draftId));
  }
}

/** Presses what is offered, at the pace of the protocol, until the signature is in hand. */
async function playToSign(session: Session, time: FakeTime): Promise<void> {
  for (let presses = 0; presses < 400; presses += 1) {
    const { running } = session.store.getState();
    const { view, log } = present(running, 'a running case');
    if (view.offers[0]?.step === 'sign-off') return;
    const move = present(nextMove(view, layoutOf(log.state), { paceFactor: 1 }), 'a move');
    time.pass(Math.ceil(move.waitMs + move.busyMs));
    await settle();
    const now = present(session.store.getState().running, 'a running case');
    const then = present(nextMove(now.view, layoutOf(now.log.state), { paceFactor: 1 }), 'a move');
    const no = session.do({ do: 'press', offer: then.offer });
    if (no !== null) throw new Error(JSON.stringify(no));
    await settle();
  }
  throw new Error('the signature was not reached');
}

/** A tablet whose lead has confirmed what the case needs. */
async function confirmedTablet(wallMs: number) {
  const whole = caseNamed('two-veneers');
  const spec = { ...withUnits(whole, whole.units.slice(0, 1)), id: 'one-veneer', title: TITLE };
  const time = fakeTime({ wallMs });
  const ids = [spec.protocol, 'finishing-visit'];
  const session = quietSession({
    journal: createMemoryJournal(),
    protocols: ids.map(protocolNamed),
    cases: [],
    crypto: webcrypto as unknown as Crypto,
    time,
    run: 'made-',
  });
  await session.start();
  await confirmAll(session, ids);
  await session.refreshLists();
  return { session, time, spec };
}

async function backupOf(session: Session): Promise<Uint8Array> {
  const file = must(await session.casesList.backUp(PASSPHRASE, () => undefined));
  return new Uint8Array(await file.arrayBuffer());
}

/** The backup of a tablet on which the case is prepared and can be begun on the patient. */
export async function preparedBackup(nowMs: number): Promise<Uint8Array> {
  const { session, spec } = await confirmedTablet(nowMs);
  must(await session.saveCase({ ...spec, scheduledFor: new Date(nowMs).toISOString() }));
  return backupOf(session);
}

/** The backup of that tablet; the case was begun so long before `nowMs` that its light is over. */
export async function oneUnitBackup(nowMs: number): Promise<Uint8Array> {
  const { session, time, spec } = await confirmedTablet(nowMs - 3 * 3_600_000);
  must(await session.openCase({ spec, mode: 'patient', speed: 1 }));
  await settle();
  await playToSign(session, time);
  return backupOf(session);
}
