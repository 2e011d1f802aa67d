/**
 * Cases in which one press stands for more than one thing: a copy of a shipped protocol with a list, a
 * swept acid, steps that a later press implies, and light that tones pace. All invented.
 */
import { layoutOf } from '../../src/engine/layout.ts';
import { nextMove } from '../../src/plan/follow.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import type { Figure, Pressing, Protocol, Step } from '../../src/protocol/types.ts';
import { Chair } from '../engine/chair.ts';
import type { Setting } from '../engine/fixture.ts';
import { templateSetting } from './journals.ts';

const seconds = (s: number): Figure => ({ value: s * 1000, basis: { kind: 'practice' } });
const span = (shortest: number, longest: number) => ({
  shortestMs: seconds(shortest),
  longestMs: seconds(longest),
});

const OPENING: Pressing = { kind: 'list', list: 'opening' };

const PRESSED: Readonly<Record<string, Pressing>> = {
  'read-teeth': OPENING,
  'read-protocol': OPENING,
  'read-materials': OPENING,
  'read-allergies': OPENING,
  'read-people': OPENING,
  signals: OPENING,
  charge: OPENING,
  'eyes-covered': OPENING,
  'light-checked': OPENING,
  acid: { kind: 'sweep', start: span(2, 6), end: span(2, 6) },
  load: { kind: 'implied', by: ['seat'] },
  excess: { kind: 'implied', by: ['tack'] },
  tack: { kind: 'paced', changeMs: seconds(2) },
  expose: { kind: 'paced', changeMs: seconds(3) },
};

function pressedStep({ pressed: _, ...step }: Step): Step {
  const pressed = PRESSED[step.id];
  return pressed === undefined ? step : { ...step, pressed };
}

/** The protocol with the ways of pressing above and no others. */
export function pressedProtocol(protocol: Protocol): Protocol {
  const told: Protocol = {
    ...protocol,
    lists: [{ id: 'opening', title: 'Opening', words: 'Opening read and checked' }],
    steps: protocol.steps.map(pressedStep),
  };
  const faults = checkProtocol(told).filter((f) => f.level === 'error');
  if (faults.length > 0) throw new Error(JSON.stringify(faults));
  return told;
}

export function pressedSetting(name = 'two-veneers'): Setting {
  const setting = templateSetting(name);
  return { ...setting, protocol: pressedProtocol(setting.protocol) };
}

/** Presses what is offered at the usual pace, as a rehearsal does, until `isThere` or `presses` of them. */
export function followPressed(
  chair: Chair,
  o: { readonly presses?: number; readonly until?: (chair: Chair) => boolean } = {},
): Chair {
  const { presses = 5000, until = () => false } = o;
  for (let i = 0; i < presses && !until(chair); i += 1) {
    const move = nextMove(chair.view, layoutOf(chair.log.state), { paceFactor: 1 });
    if (move === null) return chair;
    if (move.waitMs > 0) {
      chair.at(chair.trueMs + move.waitMs);
      continue;
    }
    chair.at(chair.trueMs + move.busyMs);
    const no = chair.do({ do: 'press', offer: move.offer, reason: 'for a test' });
    if (no) throw new Error(`${move.offer.id}: ${no.code} ${JSON.stringify(no.values)}`);
  }
  return chair;
}

/** A chair whose tones are heard. */
export function pressedChair(name = 'two-veneers'): Chair {
  const chair = new Chair(pressedSetting(name));
  chair.do({ do: 'note-tones', heard: true });
  return chair;
}

/** Until the bar offers this kind of press. */
export const untilOffer =
  (kind: string, step?: string) =>
  ({ view }: Chair): boolean => {
    const [top] = view.offers;
    return top?.kind === kind && (step === undefined || top.step === step);
  };

/** A whole case with a pass of light that was stopped and gone on with, signed. */
export function pressedWhole(name = 'two-veneers'): Chair {
  const chair = pressedChair(name);
  followPressed(chair, { until: untilOffer('pass-stop', 'expose') });
  chair.at(chair.trueMs + 4000);
  chair.next();
  chair.at(chair.trueMs + 3000);
  followPressed(chair);
  if (chair.view.finished) chair.rows('sign-off dentist-a');
  return chair;
}
