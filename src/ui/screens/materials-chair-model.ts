/** The places for materials of a running case, what was named, and what the shelf has. Pure. */
import type { MaterialLot } from '../../engine/material-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { Material } from '../../runtime/stock-types.ts';

export interface ChairSlot {
  readonly id: string;
  readonly label: string;
  readonly materialClass: string;
  readonly isOptional: boolean;
  /** The most urgent step asks for it. */
  readonly isNow: boolean;
  readonly named: MaterialLot | null;
  /** Lots of its class on the shelf, the one to be used up first at the front. */
  readonly choices: readonly Material[];
}

const WORDS: Readonly<Record<string, string>> = {
  recalled: 'was recalled when it was named',
  expired: 'was expired when it was named',
  'opened-too-long': 'was opened too long when it was named',
  'still-cold': 'was still cold when it was named',
};

/** What was said about a lot when it was named. */
export const lotMarks = (lot: MaterialLot): readonly string[] =>
  lot.warnings.map((code) => WORDS[code] ?? code);

const isOfClass = (material: Material, materialClass: string): boolean =>
  material.materialClass.trim().toLowerCase() === materialClass.trim().toLowerCase();

/** Every slot in the order of the protocol; those that the next step asks for come first. */
export function chairSlots(
  running: RunningCase,
  materials: readonly Material[],
): readonly ChairSlot[] {
  const { opened, materials: named } = running.log.state;
  const next = running.view.offers[0]?.step;
  const asked = opened.protocol.steps.find((step) => step.id === next)?.uses ?? [];
  const slots = opened.protocol.slots.map((slot): ChairSlot => {
    const onShelf = materials.filter(
      (m) => m.goneOnWallMs === undefined && isOfClass(m, slot.materialClass),
    );
    return {
      id: slot.id,
      label: slot.label,
      materialClass: slot.materialClass,
      isOptional: slot.optional === true,
      isNow: asked.includes(slot.id),
      named: named[slot.id]?.at(-1)?.material ?? null,
      choices: onShelf.toSorted((a, b) => (a.expiry ?? '9').localeCompare(b.expiry ?? '9')),
    };
  });
  return [...slots.filter((s) => s.isNow), ...slots.filter((s) => !s.isNow)];
}

/** The label of a slot that the next step asks for and nobody named a lot for; null when none. */
export function unnamedNow(running: RunningCase): string | null {
  const { opened, materials } = running.log.state;
  const next = running.view.offers[0]?.step;
  const asked = opened.protocol.steps.find((step) => step.id === next)?.uses ?? [];
  const slot = opened.protocol.slots.find((s) => asked.includes(s.id) && !materials[s.id]?.length);
  return slot?.label ?? null;
}
