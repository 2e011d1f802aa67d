/**
 * Which cautions stand on the chair: those of what is in hand, of every clock that times something
 * in the hands, and of a way back that is being carried out. Pure.
 */
import { layoutOf } from '../../engine/layout.ts';
import type { Clock } from '../../engine/view-types.ts';
import { waysInHand } from '../../engine/way-in-hand.ts';
import type { Caution, Protocol } from '../../protocol/types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { stepOf } from '../../words/offer-words.ts';
import { namingOf } from './arch-model.ts';

/** The cautions of these ids, in the order of the ids, each once. */
export function cautionsNamed(
  { cautions }: Pick<Protocol, 'cautions'>,
  ids: readonly string[],
): readonly Caution[] {
  return [...new Set(ids)].flatMap((id) => cautions.filter((caution) => caution.id === id));
}

/** What is on something now: acid, adhesive, light. A window or a rest is not in the hands. */
const isInHands = ({ kind }: Clock): boolean => kind === 'dwell' || kind === 'exposure';

/** In the order of what is nearest to the hands, each once. */
export function cautionsInHand(running: RunningCase): readonly Caution[] {
  const { protocol } = namingOf(running);
  const { state } = running.log;
  const ofStep = (id: string): readonly string[] => stepOf(protocol, id)?.cautions ?? [];
  const { asked, inHand: top } = running.view.attention;
  return cautionsNamed(protocol, [
    ...(top === null ? [] : (top.lines ?? [top]).flatMap(({ step }) => ofStep(step))),
    ...(asked?.ways ?? []).flatMap((way) =>
      way.kind === 'go-on' ? [] : (way.wayBack.cautions ?? []),
    ),
    ...running.view.clocks.filter(isInHands).flatMap(({ of }) => ofStep(of)),
    ...waysInHand(state, layoutOf(state)).flatMap(({ wayBack }) => wayBack.cautions ?? []),
  ]);
}

/** What stands in one line beside a clock; an older protocol has no short form and shows its words. */
export function shortForms(cautions: readonly Caution[]): readonly string[] {
  return [...new Set(cautions.map(({ short, words }) => short ?? words))];
}

/** Whether the step in hand was never begun: only then the whole words stand before it. */
export function isFirstTime(running: RunningCase): boolean {
  const top = running.view.attention.inHand;
  const { state } = running.log;
  return !layoutOf(state).instances.some(
    ({ key, step }) => step.id === top?.step && state.runs[key] !== undefined,
  );
}
