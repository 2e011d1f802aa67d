/**
 * Random but legal walks through a case: people press, mostly what is offered, sometimes early,
 * late or out of turn; they skip, undo, correct, go back; the device sleeps, reloads or has its
 * clock moved. Everything follows from plain numbers, so that a failing walk can be shrunk.
 */
import fc from 'fast-check';
import { present } from '../../src/base/assert.ts';
import type { Command } from '../../src/engine/commands.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import type { Offer } from '../../src/engine/view-types.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { answered } from '../../src/plan/follow.ts';
import { Chair } from './chair.ts';
import type { Setting } from './fixture.ts';

/** One stride of a walk, as numbers. */
export interface Stride {
  readonly what: number;
  readonly pick: number;
  readonly waitMs: number;
}

export const strides = (maxLength: number) =>
  fc.array(
    fc.record({
      what: fc.nat(99),
      pick: fc.nat(9999),
      waitMs: fc.oneof(
        fc.constant(0),
        fc.integer({ min: 0, max: 3000 }),
        fc.integer({ min: 0, max: 90_000 }),
      ),
    }),
    { maxLength },
  );

const pickOf = <T>(items: readonly T[], pick: number): T | undefined => items[pick % items.length];

const BRIEF: readonly Offer['kind'][] = ['end', 'light-on', 'light-move', 'light-off', 'coat'];

/** Presses the most urgent offer when it is due; takes the pace of the hands in between. */
export function follow(chair: Chair, presses: number): void {
  for (let i = 0; i < presses; i += 1) {
    const { view } = chair;
    const top = view.offers[0];
    if (view.finished || !top) return;
    if (top.dueInMs > 0) {
      chair.at(chair.trueMs + Math.ceil(top.dueInMs));
      i -= 1;
      continue;
    }
    const step = present(
      layoutOf(chair.log.state).protocol.steps.find((s) => s.id === top.step),
      top.step,
    );
    const options = step.action.kind === 'choose' ? step.action.options : [];
    const plain = options.find((o) => !o.redo)?.id;
    const offer = view.offers.find((o) => o.step === top.step && o.option === plain) ?? top;
    const isBrief = top.kind.startsWith('pass-') || BRIEF.includes(top.kind);
    const busyMs =
      top.kind === 'start'
        ? (step.hands?.applyMs.value ?? 0)
        : isBrief
          ? 0
          : step.pace.medianMs.value;
    chair.at(chair.trueMs + busyMs);
    // A hold whose beginning was skipped asks for a word.
    const whole = answered(layoutOf(chair.log.state), plain ? offer : top);
    const no = chair.do({ do: 'press', offer: whole, reason: 'for a test' });
    if (no) throw new Error(`${top.id}: ${no.code}`);
  }
}

/** Where a followed case stands after each press, made once; walks begin anywhere in it. */
export function startsOf(setting: Setting): (presses: number) => Chair {
  const full = new Chair(setting);
  full.do({ do: 'note-tones', heard: true });
  const marks: { log: CaseLog; trueMs: number }[] = [{ log: full.log, trueMs: 0 }];
  while (!full.view.finished) {
    const before = full.log;
    follow(full, 1);
    if (full.log === before) throw new Error(`stuck after ${marks.length} presses`);
    marks.push({ log: full.log, trueMs: full.trueMs });
  }
  return (presses) => {
    const mark = present(marks[presses % marks.length], 'mark');
    const chair = new Chair(setting);
    chair.at(mark.trueMs);
    chair.log = mark.log;
    return chair;
  };
}

function pressed(chair: Chair, { pick, what }: Stride): Command | null {
  const { offers } = chair.view;
  const found = what < 45 ? offers[0] : pickOf(offers, pick);
  // Of a list now and then only what needs no answer.
  const offer = found && pick % 3 > 0 ? answered(layoutOf(chair.log.state), found) : found;
  return offer ? { do: 'press', offer: partly(offer, pick) } : null;
}

/** Now and then people do only part of a round. */
function partly(offer: Offer, pick: number): Offer {
  const isPart = pick % 7 === 0 && offer.subjects.length > 1;
  return isPart ? { ...offer, subjects: offer.subjects.slice(0, 1 + (pick % 3)) } : offer;
}

/** What people do in this stride; null when there is nothing to do it to. */
function commandOf(chair: Chair, stride: Stride): Command | null {
  const { what, pick, waitMs } = stride;
  const { state } = chair.log;
  const layout = layoutOf(state);
  if (what < 70) return pressed(chair, stride);
  if (what < 74) {
    const instance = pickOf(layout.instances, pick);
    const { step, subject } = present(instance, 'instance');
    return { do: 'skip', step: step.id, subjects: [subject], reason: 'for a test' };
  }
  if (what < 79) return { do: 'undo' };
  if (what < 84) return { do: 'retime', byMs: (pick % 9000) - 8000 };
  if (what < 90) {
    const way = pickOf(waysBackNow(state, layout), pick);
    if (!way) return null;
    const subjects = way.subjects.slice(0, 1 + (pick % way.subjects.length));
    const { id, mishap } = way.wayBack;
    return { do: 'take-way-back', wayBack: id, mishap, subjects, reason: 'for a test' };
  }
  if (what < 92) {
    const units = state.plan.order.filter((_, i) => (pick & (1 << i)) !== 0);
    return { do: 'add-mix', units, reason: 'for a test' };
  }
  if (what < 93) return { do: 'probe-bead', mix: 'mix:1', found: 'stringy' };
  if (what < 94) return { do: 'note', words: `note ${pick}` };
  if (what < 95) return { do: 'take-role', person: 'assistant-b', role: 'assistant' };
  if (what < 96) {
    const cue = pickOf(chair.view.cues, pick)?.id;
    return cue ? { do: 'acknowledge', cue } : null;
  }
  if (what < 97) {
    const gap = pickOf(state.gaps, pick)?.seq;
    return gap === undefined ? null : { do: 'settle-gap', gap, lengthMs: waitMs };
  }
  if (what < 98 && pick % 3 === 0) {
    const words = { paste: 'light 1', judgedBy: 'patient', result: 'too-dark' } as const;
    return { do: 'try-shade', trial: { subject: 'case', ...words } };
  }
  return null;
}

/** What the device does in this stride, if anything. `isNoticed`: the heartbeat sees it at once. */
function deviceStride(chair: Chair, { what, pick }: Stride): void {
  const before = chair.stamp;
  if (what === 97) chair.rows(`sleep ${300 + pick * 10} ms`);
  else if (what === 98) {
    // As the app does first in a new run; until then nothing counts up for certain.
    chair.rows(`reload ${pick * 10} ms`);
    chair.do({ do: 'note-gap', before, after: chair.stamp, cause: 'closed' }, null);
  } else if (what === 99) {
    const byMs = (pick % 2 === 0 ? 1 : -1) * (300 + pick * 100);
    chair.rows(`wall ${byMs} ms`);
    const cause = byMs > 0 ? 'asleep-or-moved' : 'moved-back';
    chair.do({ do: 'note-gap', before, after: chair.stamp, cause }, null);
  }
}

/** Walks; `onPress` sees the chair after each command that was accepted. */
export function walk(
  chair: Chair,
  list: readonly Stride[],
  onPress: (chair: Chair, before: CaseLog, command: Command) => void = () => undefined,
): Chair {
  for (const stride of list) {
    chair.at(chair.trueMs + stride.waitMs);
    deviceStride(chair, stride);
    const command = commandOf(chair, stride);
    if (!command) continue;
    const before = chair.log;
    if (chair.do(command) === null) onPress(chair, before, command);
  }
  return chair;
}
