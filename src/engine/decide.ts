/**
 * Commands in, events or a refusal out. Nothing is changed here; time enters as `now` only where a
 * correction must not move a press into the future.
 */
import { present, unreachable } from '../base/assert.ts';
import { err, ok, type Result } from '../base/result.ts';
import { notAsked } from '../protocol/check-materials.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { place } from './axis.ts';
import { type Command, IS_FOR_CLOSED_CASES, type Refusal, refusal } from './commands.ts';
import { litEvents } from './decide-light.ts';
import { decidePress } from './decide-press.ts';
import { decideRetime } from './decide-retime.ts';
import { withHoldReason } from './hold-reason.ts';
import { type Layout, layoutOf } from './layout.ts';
import { ledInTheWay } from './led-in-the-way.ts';
import { type CaseLog, presses } from './log.ts';
import { partLate } from './own-portion.ts';
import { decideGivePen, decideTakePen } from './pen.ts';
import { namedInstances, saidEvents } from './press-scene.ts';
import type { TellReadBack } from './read-back.ts';
import type { RunPlan } from './run-plan-types.ts';
import { decideSetAside } from './set-aside.ts';
import { StatusReader } from './status.ts';
import { decideStopVisit } from './stop-visit.ts';
import type { CaseEvent, InstanceKey, Stamp } from './types.ts';
import { doneUnpressed, withDone } from './way-back-asked.ts';
import { voidedBy, waysBackNow } from './ways-back.ts';

type Decision = Result<readonly CaseEvent[], Refusal>;

/** What opening a case needs. Nothing is decided by its zone and its tablet. */
export type Opening = Omit<Extract<CaseEvent, { readonly type: 'case-opened' }>, 'type'>;

/**
 * Opens a case. A patient's case needs a protocol that the clinic lead has confirmed, and an answer to
 * everything that its steps depend on: without one, steps would be left out that the tooth may need.
 */
export function decideOpening(o: Opening): Decision {
  if (o.mode === 'patient' && (o.approval === null || o.approval.hash !== o.protocolHash)) {
    return err(
      refusal('protocol-unconfirmed', {
        protocol: o.protocol.title,
        revision: o.protocol.revision,
      }),
    );
  }
  const open = o.mode === 'patient' ? notAsked(o.spec, o.protocol) : [];
  if (open.length > 0) {
    const about = (key: string) => [...new Set(open.map(({ values }) => String(values[key])))];
    const values = { ids: about('id').join(', '), count: open.length };
    return err(refusal('not-asked', values, about('fact')));
  }
  const units = o.spec.units.map((u) => u.id);
  const unfit = refusePlan(units, o.plan);
  return unfit ? err(unfit) : ok([{ type: 'case-opened', ...o }]);
}

/** A plan takes every unit once, and the units of one mix follow each other in the order. */
function refusePlan(units: readonly string[], plan: RunPlan): Refusal | null {
  const { order, mixes } = plan;
  const wanted = [...units].sort().join(' ');
  const planned = [...order].sort().join(' ');
  const mixed = inOrder(order, mixes).flat().join(' ');
  if (planned === wanted && (mixes.length === 0 || mixed === order.join(' '))) return null;
  return refusal('plan-does-not-fit', { units: wanted, planned, mixed });
}

/** The mixes as they come up in seating. */
function inOrder(order: readonly string[], mixes: RunPlan['mixes']): string[][] {
  const at = (unit: string) => order.indexOf(unit);
  return mixes
    .map((mix) => [...mix].sort((a, b) => at(a) - at(b)))
    .sort((a, b) => at(a[0] ?? '') - at(b[0] ?? ''));
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

/** Takes a way back, behind what people say was done and nobody pressed. */
function decideWayBack(log: CaseLog, c: Of<'take-way-back'>): Decision {
  const { state } = log;
  const layout = layoutOf(state);
  const known = layout.protocol.waysBack.find(({ id }) => id === c.wayBack);
  if (c.wasDone !== true || known === undefined) return decideBack({ state, layout }, c);
  const done = doneUnpressed({ state, layout }, known, c.subjects);
  const decided = decideBack({ state: withDone(state, done), layout }, c);
  if (!decided.ok) return decided;
  const statuses = new StatusReader(state, layout);
  const said = saidEvents({ state, layout, statuses }, done, known.id);
  return ok([...said, ...decided.value]);
}

function decideBack(
  scene: { readonly state: CaseLog['state']; readonly layout: Layout },
  c: Of<'take-way-back'>,
): Decision {
  const { state, layout } = scene;
  const { wayBack: id, mishap, subjects } = c;
  if (c.reason.trim() === '') return err(refusal('reason-missing', { step: id ?? mishap }));
  const unknown = unknownIn(layout, c);
  if (unknown) return err(unknown);
  const taken = (voids: readonly InstanceKey[], isWholeMix: boolean): Decision => {
    const { voided, events } = partLate(scene, { voided: voids, reason: c.reason }, isWholeMix);
    return ok([
      // A light that failed is off: what it gave until now counts, and nothing is counted on.
      ...(mishap === 'light-failed' ? [...litEvents(scene), ...passEvents(state)] : []),
      { type: 'way-back-taken', wayBack: id, mishap, subjects, voided, reason: c.reason },
      ...events,
    ]);
  };
  if (id === null) return taken(c.voids ?? [], false);
  const offer = waysBackNow(state, layout).find((o) => o.wayBack.id === id);
  const wayBack = offer?.wayBack;
  if (!wayBack || wayBack.mishap !== mishap || subjects.some((s) => !offer.subjects.includes(s))) {
    return err(refusal('unknown-way-back', { wayBack: id, subjects: subjects.join(' ') }));
  }
  const voided = c.voids ?? voidedBy({ state, layout, wayBack, subjects });
  return taken(voided, wayBack.per === 'mix');
}

/** The pass of light that is under way, as stopped. */
function passEvents({ lightPass }: CaseLog['state']): CaseEvent[] {
  if (lightPass === null || lightPass.running === null) return [];
  return [{ type: 'light-pass-stopped', step: lightPass.step }];
}

/** What a way back names that the case does not have. */
function unknownIn(layout: Layout, c: Of<'take-way-back'>): Refusal | null {
  const step = (c.voids ?? []).find((key) => !layout.byKey.has(key));
  if (step !== undefined) return refusal('unknown-step', { step });
  const known: ReadonlySet<SubjectId> = new Set(Object.values(layout.subjects.order).flat());
  const stranger = c.subjects.length === 0 ? '' : c.subjects.find((s) => !known.has(s));
  return stranger === undefined ? null : refusal('unknown-subject', { subject: stranger });
}

function decideUndo(log: CaseLog): Decision {
  const last = presses(log).at(-1);
  if (last === undefined) return err(refusal('nothing-to-undo'));
  return ok([{ type: 'press-retracted', press: last }]);
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
  if (c.reason.trim() === '') return err(refusal('reason-missing'));
  const { order, mixes } = log.state.plan;
  // A protocol without mixes has none to add: a plan with one mix of some units would lose others.
  if (mixes.length === 0) {
    const wanted = order.join(' ');
    return err(refusal('plan-does-not-fit', { units: wanted, planned: wanted, mixed: '' }));
  }
  return ok([{ type: 'mix-added', units: [...new Set(c.units)], reason: c.reason }]);
}

function decideClose(log: CaseLog, c: Of<'close'>): Decision {
  const layout = layoutOf(log.state);
  const statuses = new StatusReader(log.state, layout);
  const left = layout.instances.filter((i) => !i.step.optional && isLeft(statuses.of(i)));
  // A drill ends wherever it stands.
  if (left.length > 0 && log.state.opened.drill === undefined) {
    const missing = left.map((i) => i.key);
    return err(refusal('work-left', { count: left.length }, missing));
  }
  return ok([{ type: 'case-closed', signedBy: c.by, role: c.role }]);
}

const isLeft = (status: string): boolean => ['open', 'blocked', 'running'].includes(status);

/**
 * Decides any command against a log. `now` is what the clocks say at the press; `tell` puts into
 * words what the press records as read aloud.
 */
export function decide(log: CaseLog, command: Command, now: Stamp, tell: TellReadBack): Decision {
  const { state } = log;
  if (state.closed && !IS_FOR_CLOSED_CASES[command.do]) return err(refusal('case-closed'));
  if (command.do === 'take-pen') return decideTakePen(state, command);
  if (state.pen.given !== null) return err(refusal('not-holder'));
  const led = ledInTheWay(state, command, now);
  if (led !== null) return err(led);
  switch (command.do) {
    case 'press': {
      const layout = layoutOf(state);
      const { at } = place(state.anchor, now);
      const scene = { state, layout, statuses: new StatusReader(state, layout), now: at, tell };
      const decided = decidePress(scene, command.offer, command.evidence);
      return decided.ok ? withHoldReason({ scene, command, now, events: decided.value }) : decided;
    }
    case 'skip':
      return decideSkip(log, command);
    case 'stop-visit':
      return decideStopVisit(state, command);
    case 'set-aside':
      return decideSetAside(state, command);
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
    case 'give-pen':
      return decideGivePen(state, command);
    default:
      return decideSimple(log, command);
  }
}

type Simple = Of<
  | 'change-plan'
  | 'probe-bead'
  | 'note-gap'
  | 'acknowledge'
  | 'note'
  | 'note-tones'
  | 'change-numbering'
  | 'take-role'
  | 'name-material'
  | 'try-shade'
  | 'note-emergency'
  | 'give-anaesthesia'
>;

/** Any tooth may be named: a block numbs more of them than the case has. */
function decideInjection({ given }: Of<'give-anaesthesia'>): Decision {
  const unknown = given.teeth.find((tooth) => !/^[1-4][1-8]$/.test(tooth));
  if (given.teeth.length === 0 || unknown !== undefined) {
    return err(refusal('unknown-subject', { subject: unknown ?? '' }));
  }
  return ok([{ type: 'anaesthesia-given', ...given }]);
}

/** Commands that only need their subject to exist. */
function decideSimple(log: CaseLog, c: Simple): Decision {
  const { state } = log;
  switch (c.do) {
    case 'change-plan': {
      const unfit = refusePlan(state.plan.order, c.plan);
      if (unfit) return err(unfit);
      if (c.reason.trim() === '') return err(refusal('reason-missing'));
      return ok([{ type: 'plan-changed', plan: c.plan, reason: c.reason }]);
    }
    case 'probe-bead': {
      const mixes = layoutOf(state).subjects.order.mix;
      if (!mixes.includes(c.mix)) return err(refusal('unknown-subject', { subject: c.mix }));
      return ok([{ type: 'bead-probed', mix: c.mix, found: c.found }]);
    }
    case 'name-material': {
      const slot = state.opened.protocol.slots.find((s) => s.id === c.slot);
      if (!slot) return err(refusal('unknown-slot', { slot: c.slot }));
      return ok([{ type: 'material-named', slot: slot.id, material: c.material }]);
    }
    case 'try-shade': {
      const { subject } = c.trial;
      const { order } = layoutOf(state).subjects;
      if (![...order.case, ...order.unit].includes(subject)) {
        return err(refusal('unknown-subject', { subject }));
      }
      return ok([{ type: 'shade-tried', trial: c.trial }]);
    }
    case 'note-emergency':
      return ok([{ type: 'emergency-noted', ...c.note }]);
    case 'give-anaesthesia':
      return decideInjection(c);
    case 'note-gap':
      return ok([{ type: 'gap-found', before: c.before, after: c.after, cause: c.cause }]);
    case 'note-tones':
      return ok([{ type: 'tones-heard', heard: c.heard }]);
    case 'acknowledge':
      return ok([{ type: 'cue-acknowledged', cue: c.cue }]);
    case 'note':
      if (c.words.trim() === '') return err(refusal('reason-missing'));
      return ok([
        {
          type: 'note-added',
          words: c.words.trim(),
          ...(c.about === undefined ? {} : { about: c.about }),
        },
      ]);
    case 'change-numbering':
      return ok([{ type: 'numbering-changed', notation: c.notation }]);
    case 'take-role': {
      const person = state.opened.spec.people.find((p) => p.id === c.person);
      if (!person) return err(refusal('unknown-person', { person: c.person }));
      return ok([{ type: 'role-taken', person: present(person, 'person').id, role: c.role }]);
    }
    default:
      return unreachable(c);
  }
}
