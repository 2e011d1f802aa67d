/**
 * Commands in, events or a refusal out. Nothing is changed here; time enters as `now` only where a
 * correction must not move a press into the future.
 */
import { present, unreachable } from '../base/assert.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { CaseFile, Protocol } from '../protocol/types.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { decidePress, namedInstances } from './decide-press.ts';
import { layoutOf } from './layout.ts';
import { type CaseLog, presses, replay } from './log.ts';
import { StatusReader } from './status.ts';
import type { Approval, CaseEvent, RunPlan, Stamp } from './types.ts';
import { nowOf } from './view.ts';
import { voidedBy, waysBackNow } from './ways-back.ts';

type Decision = Result<readonly CaseEvent[], Refusal>;

/** What opening a case needs. */
export interface Opening {
  readonly mode: 'patient' | 'rehearsal';
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly protocolHash: string;
  readonly approval: Approval | null;
  readonly plan: RunPlan;
}

/** Opens a case. A patient's case needs a protocol that the clinic lead has confirmed. */
export function decideOpening(o: Opening): Decision {
  if (o.mode === 'patient' && (o.approval === null || o.approval.hash !== o.protocolHash)) {
    return err(
      refusal('protocol-unconfirmed', {
        protocol: o.protocol.title,
        revision: o.protocol.revision,
      }),
    );
  }
  const units = o.spec.units.map((u) => u.id);
  const planned = [...o.plan.order].sort().join();
  const mixed = o.plan.mixes.flat().sort().join();
  const wanted = [...units].sort().join();
  if (planned !== wanted || (o.plan.mixes.length > 0 && mixed !== wanted)) {
    return err(refusal('plan-does-not-fit', { units: wanted, planned, mixed }));
  }
  return ok([{ type: 'case-opened', ...o }]);
}

type Of<K extends Command['do']> = Extract<Command, { do: K }>;

function decideSkip(log: CaseLog, c: Of<'skip'>): Decision {
  if (c.reason.trim() === '') return err(refusal('reason-missing', { step: c.step }));
  const layout = layoutOf(log.state);
  const named = namedInstances(layout, c);
  if (!named.ok) return named;
  const statuses = new StatusReader(log.state, layout);
  for (const instance of named.value) {
    const status = statuses.of(instance);
    if (status === 'done' || status === 'skipped') {
      return err(refusal('already-done', { step: c.step, subject: instance.subject }));
    }
  }
  const { step, subjects, reason } = c;
  return ok([{ type: 'step-skipped', step, subjects, reason }]);
}

function decideWayBack(log: CaseLog, c: Of<'take-way-back'>): Decision {
  const { state } = log;
  const layout = layoutOf(state);
  const { wayBack: id, mishap, subjects } = c;
  if (c.reason.trim() === '') return err(refusal('reason-missing', { step: id ?? mishap }));
  if (id === null) {
    const voided = c.voids ?? [];
    const unknown = voided.find((key) => !layout.byKey.has(key));
    if (unknown) return err(refusal('unknown-step', { step: unknown }));
    return ok([
      { type: 'way-back-taken', wayBack: null, mishap, subjects, voided, reason: c.reason },
    ]);
  }
  const offer = waysBackNow(state, layout).find((o) => o.wayBack.id === id);
  const wayBack = offer?.wayBack;
  if (!wayBack || wayBack.mishap !== mishap || subjects.some((s) => !offer.subjects.includes(s))) {
    return err(refusal('unknown-way-back', { wayBack: id, subjects: subjects.join(' ') }));
  }
  const voided = c.voids ?? voidedBy({ state, layout, wayBack, subjects });
  return ok([{ type: 'way-back-taken', wayBack: id, mishap, subjects, voided, reason: c.reason }]);
}

function decideUndo(log: CaseLog): Decision {
  const last = presses(log).at(-1);
  if (last === undefined) return err(refusal('nothing-to-undo'));
  return ok([{ type: 'press-retracted', press: last }]);
}

/** A press may be moved within the time that has passed, and not before what it depends on. */
function decideRetime(log: CaseLog, c: Of<'retime'>, now: Stamp): Decision {
  const press = c.press ?? presses(log).at(-1);
  const first = log.records.find((r) => r.press === press && press !== 0);
  if (press === undefined || !first) return err(refusal('nothing-to-undo'));
  const event: CaseEvent = { type: 'press-retimed', press, byMs: Math.round(c.byMs) };
  const before = replayUntil(log, press);
  const at = nowOf(before.state, first.stamp);
  const nowAt = nowOf(log.state, now);
  if (at.hiMs + c.byMs > nowAt.hiMs) return err(refusal('moves-past-now', { byMs: c.byMs }));
  const floor = lastMomentTouched(before, log, press);
  if (at.loMs + c.byMs < floor) {
    return err(refusal('moves-before-its-start', { byMs: c.byMs }));
  }
  return ok([event]);
}

function replayUntil(log: CaseLog, press: number): CaseLog {
  const earlier = log.records.filter((r) => r.press < press);
  return earlier.length === log.records.length ? log : replay(earlier);
}

/** The latest moment among the runs that this press goes on with. */
function lastMomentTouched(before: CaseLog, log: CaseLog, press: number): number {
  const touched = log.records
    .filter((r) => r.press === press)
    .flatMap(({ event }) => {
      if ('subjects' in event && 'step' in event) {
        return event.subjects.map((s) => `${event.step}@${s}`);
      }
      return 'subject' in event && 'step' in event ? [`${event.step}@${event.subject}`] : [];
    });
  const moments = touched.flatMap((key) => {
    const run = before.state.runs[key];
    const lit = run?.lit?.since;
    return [run?.startedAt, lit, run?.counts.at(-1)].map((at) => at?.loMs ?? 0);
  });
  return Math.max(0, ...moments);
}

function decideGap(log: CaseLog, c: Of<'settle-gap'>): Decision {
  const gap = log.state.gaps.find((g) => g.seq === c.gap);
  if (!gap) return err(refusal('unknown-gap', { gap: c.gap }));
  const isUnknown = !Number.isFinite(c.lengthMs) || c.lengthMs < 0;
  if (isUnknown) return err(refusal('gap-length', { lengthMs: String(c.lengthMs) }));
  return ok([{ type: 'gap-settled', gap: c.gap, lengthMs: Math.round(c.lengthMs) }]);
}

function decideMix(log: CaseLog, c: Of<'add-mix'>): Decision {
  const known = new Set(log.state.plan.order);
  const unknown = c.units.find((u) => !known.has(u));
  if (unknown !== undefined || c.units.length === 0) {
    return err(refusal('unknown-unit', { unit: unknown ?? '' }));
  }
  return ok([{ type: 'mix-added', units: c.units, reason: c.reason }]);
}

function decideClose(log: CaseLog, c: Of<'close'>): Decision {
  const layout = layoutOf(log.state);
  const statuses = new StatusReader(log.state, layout);
  const left = layout.instances.filter((i) => !i.step.optional && isLeft(statuses.of(i)));
  if (left.length > 0) {
    const missing = left.map((i) => i.key);
    return err(refusal('work-left', { count: left.length }, missing));
  }
  return ok([{ type: 'case-closed', signedBy: c.by, role: c.role }]);
}

const isLeft = (status: string): boolean => ['open', 'blocked', 'running'].includes(status);

/** Decides any command against a log. `now` is what the clocks say at the press. */
export function decide(log: CaseLog, command: Command, now: Stamp): Decision {
  const { state } = log;
  const afterClose = ['note', 'note-gap', 'settle-gap', 'undo', 'acknowledge'];
  if (state.closed && !afterClose.includes(command.do)) return err(refusal('case-closed'));
  switch (command.do) {
    case 'press': {
      const layout = layoutOf(state);
      const scene = { state, layout, statuses: new StatusReader(state, layout) };
      return decidePress(scene, command.offer, command.evidence);
    }
    case 'skip':
      return decideSkip(log, command);
    case 'take-way-back':
      return decideWayBack(log, command);
    case 'undo':
      return decideUndo(log);
    case 'retime':
      return decideRetime(log, command, now);
    case 'add-mix':
      return decideMix(log, command);
    case 'close':
      return decideClose(log, command);
    case 'settle-gap':
      return decideGap(log, command);
    default:
      return decideSimple(log, command);
  }
}

type Simple = Of<'change-plan' | 'probe-bead' | 'note-gap' | 'acknowledge' | 'note' | 'take-role'>;

/** Commands that only need their subject to exist. */
function decideSimple(log: CaseLog, c: Simple): Decision {
  const { state } = log;
  switch (c.do) {
    case 'change-plan': {
      const now = [...state.plan.order].sort().join();
      const then = [...c.plan.order].sort().join();
      if (now !== then) return err(refusal('plan-does-not-fit', { units: now, planned: then }));
      return ok([{ type: 'plan-changed', plan: c.plan, reason: c.reason }]);
    }
    case 'probe-bead': {
      const mixes = layoutOf(state).subjects.order.mix;
      if (!mixes.includes(c.mix)) return err(refusal('unknown-subject', { subject: c.mix }));
      return ok([{ type: 'bead-probed', mix: c.mix, found: c.found }]);
    }
    case 'note-gap':
      return ok([{ type: 'gap-found', before: c.before, after: c.after, cause: c.cause }]);
    case 'acknowledge':
      return ok([{ type: 'cue-acknowledged', cue: c.cue }]);
    case 'note':
      if (c.words.trim() === '') return err(refusal('reason-missing'));
      return ok([{ type: 'note-added', words: c.words.trim() }]);
    case 'take-role': {
      const person = state.opened.spec.people.find((p) => p.id === c.person);
      if (!person) return err(refusal('unknown-person', { person: c.person }));
      return ok([{ type: 'role-taken', person: present(person, 'person').id, role: c.role }]);
    }
    default:
      return unreachable(c);
  }
}
