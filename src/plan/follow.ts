/**
 * What people would do who press exactly what is offered at the pace of the protocol: wait until it
 * is due, keep the hands busy for as long as the step takes, press. Times in ms.
 */
import { present, unreachable } from '../base/assert.ts';
import { instanceKey, type Layout } from '../engine/layout.ts';
import type { TakenLine } from '../engine/pressing-types.ts';
import { sweepOver } from '../engine/sweep.ts';
import type { Offer, View } from '../engine/view-types.ts';
import { paceOf } from '../protocol/pace.ts';
import type { Step } from '../protocol/types.ts';

export interface Move {
  readonly offer: Offer;
  /** Until it is due. */
  readonly waitMs: number;
  /** From then until the press. */
  readonly busyMs: number;
}

function isSwept(layout: Layout, { step, subjects }: Offer, edge: 'start' | 'end'): boolean {
  const named = subjects.flatMap((each) => layout.byKey.get(instanceKey(step, each)) ?? []);
  return sweepOver(layout, named, edge) !== null;
}

/** How long the hands are busy before they press this, at the usual pace. */
function busyMs(layout: Layout, step: Step, offer: Offer): number {
  const { kind, subjects, between = 0 } = offer;
  const { medianMs } = paceOf(step, subjects.length);
  switch (kind) {
    case 'start':
      // A sweep is pressed as it begins.
      return isSwept(layout, offer, 'start') ? 0 : (step.hands?.applyMs.value ?? 0);
    case 'end':
      return isSwept(layout, offer, 'end') ? 0 : (step.hands?.rinseMs.value ?? 0);
    case 'confirm':
    case 'choose':
    case 'pass':
      return medianMs;
    case 'all-passes':
      return step.action.kind === 'tally' ? medianMs * step.action.passesMax.value : 0;
    case 'coat':
      return step.action.kind === 'coats'
        ? (medianMs * (1 + between)) / step.action.count.value
        : 0;
    case 'passes-done':
    case 'light-on':
    case 'light-move':
    case 'light-off':
    case 'list':
    case 'pass-begin':
    case 'pass-stop':
    case 'pass-confirm':
    case 'close':
      // The light keeps its own time, and the rest is only a press.
      return 0;
    default:
      return unreachable(kind);
  }
}

/** Of the options of a choice, one that goes on instead of looping. */
function onward(step: Step, view: View, top: Offer): Offer {
  if (step.action.kind !== 'choose') return top;
  const loops = new Set(step.action.options.filter((o) => o.redo).map((o) => o.id));
  const plain = view.offers.find(
    (o) => o.step === top.step && o.kind === 'choose' && !loops.has(o.option ?? ''),
  );
  return plain ?? top;
}

/** How long the hands are busy with the lines of a list, and with what the same press says of earlier steps. */
function beside({ protocol }: Layout, { implies = [], lines = [] }: Offer): number {
  return [...implies, ...lines].reduce((ms, { step: id, subjects }) => {
    const step = protocol.steps.find((s) => s.id === id);
    if (step === undefined || step.action.kind === 'expose') return ms;
    const presses = step.together === true ? 1 : subjects.length;
    return ms + paceOf(step, subjects.length).medianMs * presses;
  }, 0);
}

/** What people would answer: what goes on instead of looping, and a value inside its bounds. */
function answerTo({ action }: Step): Pick<TakenLine, 'option' | 'evidence'> {
  if (action.kind === 'choose') {
    const [first] = action.options;
    const plain = action.options.find((o) => o.redo === undefined) ?? first;
    return plain === undefined ? {} : { option: plain.id };
  }
  const evidence = action.kind === 'confirm' ? action.evidence : undefined;
  switch (evidence?.kind) {
    case 'choice':
      return { evidence: evidence.options[0]?.label ?? '' };
    case 'reading':
      return { evidence: `${evidence.min} ${evidence.unit}` };
    case 'material':
    case 'note':
      return { evidence: 'as agreed' };
    default:
      return {};
  }
}

/** A list with every line answered; any other press as it is. */
export function answered({ protocol }: Layout, offer: Offer): Offer {
  if (offer.lines === undefined) return offer;
  const taken = offer.lines.map(({ step: id, subjects, wants }): TakenLine => {
    const step = protocol.steps.find((s) => s.id === id);
    const answer = step === undefined || wants === null ? {} : answerTo(step);
    return { step: id, subjects, ...answer };
  });
  return { ...offer, taken };
}

/** The next move; null when nothing is offered. */
export function nextMove(
  view: View,
  layout: Layout,
  options: { readonly paceFactor: number },
): Move | null {
  const [top] = view.offers;
  if (view.finished || !top) return null;
  const step = present(
    layout.protocol.steps.find((s) => s.id === top.step),
    top.step,
  );
  const ms = busyMs(layout, step, top) + beside(layout, top);
  return {
    offer: answered(layout, onward(step, view, top)),
    waitMs: Math.max(0, Math.ceil(top.dueInMs)),
    busyMs: Math.round(ms * options.paceFactor),
  };
}
