/**
 * What people would do who press exactly what is offered at the pace of the protocol: wait until it
 * is due, keep the hands busy for as long as the step takes, press. Times in ms.
 */
import { present, unreachable } from '../base/assert.ts';
import type { Layout } from '../engine/layout.ts';
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

/** How long the hands are busy before they press this, at the usual pace. */
function busyMs(step: Step, { kind, subjects }: Offer): number {
  const { medianMs } = paceOf(step, subjects.length);
  switch (kind) {
    case 'start':
      return step.hands?.applyMs.value ?? 0;
    case 'end':
      return step.hands?.rinseMs.value ?? 0;
    case 'confirm':
    case 'choose':
    case 'pass':
      return medianMs;
    case 'all-passes':
      return step.action.kind === 'tally' ? medianMs * step.action.passesMax.value : 0;
    case 'coat':
      return step.action.kind === 'coats' ? medianMs / step.action.count.value : 0;
    case 'passes-done':
    case 'light-on':
    case 'light-move':
    case 'light-off':
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
  return {
    offer: onward(step, view, top),
    waitMs: Math.max(0, Math.ceil(top.dueInMs)),
    busyMs: Math.round(busyMs(step, top) * options.paceFactor),
  };
}
