/** Where an entry of a protocol is named by others: asked before it is taken out. */

import { conditionsOf, flatConditions } from './conditions.ts';
import { type Spot, spotOfPlace } from './edit-types.ts';
import type { Protocol, Step, WayBack, Window } from './types.ts';
import { basesOf } from './walk-figures.ts';

/** The numbers and ways back whose basis is this publication, in document order. */
export function usesOfSource(protocol: Protocol, source: string): readonly Spot[] {
  return basesOf(protocol).flatMap(({ place, basis }) => {
    if (basis.kind !== 'published' || basis.source !== source) return [];
    const spot = spotOfPlace(protocol, place);
    return spot === null ? [] : [spot];
  });
}

/** The steps that stand in this stage. */
export function stepsOfStage(protocol: Protocol, stage: string): readonly Step[] {
  return protocol.steps.filter((step) => step.stage === stage);
}

/** The steps at which this caution is said. */
export function stepsOfCaution(protocol: Protocol, caution: string): readonly Step[] {
  return protocol.steps.filter((step) => step.cautions?.includes(caution) === true);
}

/** The windows that propose this way back, and the steps that are done only after it. */
export function usesOfWayBack(protocol: Protocol, id: string): readonly (Step | Window)[] {
  const opens = (step: Step): boolean =>
    step.onlyIf?.some((condition) => 'wayBack' in condition && condition.wayBack === id) === true;
  return [
    ...protocol.windows.filter((window) => window.wayBack === id),
    ...protocol.steps.filter(opens),
  ];
}

/** The steps that use a material, or ask for it as evidence. */
export function stepsOfSlot(protocol: Protocol, slot: string): readonly Step[] {
  return protocol.steps.filter(({ uses = [], action }) => {
    const evidence = action.kind === 'confirm' ? action.evidence : undefined;
    return uses.includes(slot) || (evidence?.kind === 'material' && evidence.slot === slot);
  });
}

/** The steps and ways back with a condition on this choice; on this option of it, where one is named. */
export function usesOfChoice(
  protocol: Protocol,
  o: { readonly choice: string; readonly option?: string | undefined },
): readonly (Step | WayBack)[] {
  const placed = conditionsOf(protocol).filter(({ where }) =>
    flatConditions(where).some(
      (each) =>
        'choice' in each &&
        each.choice === o.choice &&
        (o.option === undefined || each.is.includes(o.option)),
    ),
  );
  const owners = placed.flatMap(({ place }): readonly (Step | WayBack)[] => {
    const spot = spotOfPlace(protocol, place);
    if (spot === null) return [];
    const list = spot.part === 'steps' ? protocol.steps : protocol.waysBack;
    return list.filter(({ id }) => id === spot.id);
  });
  return [...new Set(owners)];
}
