/** The places for materials of a running case, what was named, and what the shelf has. Pure. */

import type { MaterialLot } from '../../engine/material-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { byLastDay } from '../../runtime/stock/last-day.ts';
import { sameClass, sameLot } from '../../runtime/stock/same-lot.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';
import { materialWarnings } from '../../runtime/stock/stock-warnings.ts';
import type { MaterialWarning } from '../../words/codes.ts';
import type { Times } from '../../words/date-words.ts';
import { warningWhenNamedWords } from '../../words/material-warning-words.ts';

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

/** Whether more was said about a lot than that it was cold. */
export const isGraveLot = (lot: MaterialLot): boolean =>
  lot.warnings.some((code) => code !== 'still-cold');

/** What was said about a lot when it was named. */
export const lotMarks = (lot: MaterialLot): readonly string[] =>
  lot.warnings.map(warningWhenNamedWords);

/** What is in hand asks for; everything, where the materials are read aloud. */
function askedNow(running: RunningCase): readonly string[] {
  const { steps, slots } = running.log.state.opened.protocol;
  const { inHand } = running.view.attention;
  const ids = (inHand?.lines ?? (inHand ? [inHand] : [])).map(({ step }) => step);
  const next = steps.filter(({ id }) => ids.includes(id));
  const isRead = next.some(({ action }) => {
    const evidence = action.kind === 'confirm' ? action.evidence : undefined;
    return evidence?.kind === 'read-back' && evidence.of === 'materials';
  });
  return isRead ? slots.map((s) => s.id) : next.flatMap(({ uses = [] }) => uses);
}

/** Every slot in the order of the protocol; those that the next step asks for come first. */
export function chairSlots(
  running: RunningCase,
  materials: readonly Material[],
): readonly ChairSlot[] {
  const { opened, materials: named } = running.log.state;
  const asked = askedNow(running);
  const slots = opened.protocol.slots.map((slot): ChairSlot => {
    const onShelf = materials.filter(
      (m) => m.goneOnWallMs === undefined && sameClass(m.materialClass, slot.materialClass),
    );
    return {
      id: slot.id,
      label: slot.label,
      materialClass: slot.materialClass,
      isOptional: slot.optional === true,
      isNow: asked.includes(slot.id),
      named: named[slot.id]?.at(-1)?.material ?? null,
      choices: onShelf.toSorted(byLastDay),
    };
  });
  return [...slots.filter((s) => s.isNow), ...slots.filter((s) => !s.isNow)];
}

/** A place that the next step asks for, and what has to be said about it. */
export interface AskedSlot {
  readonly id: string;
  readonly label: string;
  readonly named: MaterialLot | null;
  /** What speaks against the lot now; the shelf may know more than when it was named. */
  readonly warnings: readonly MaterialWarning[];
  /** The one lot of its class on the shelf, which one touch can name. */
  readonly only: Material | null;
}

const isGrave = (warning: MaterialWarning): boolean => warning.code !== 'still-cold';

/** Slots whose warm-up the case itself watches: a window of the protocol runs from taking them out. */
function warmedByCase({ steps, windows }: Protocol): ReadonlySet<string> {
  const from = windows.filter((w) => w.protects === 'warm').map((w) => w.from.step);
  return new Set(steps.flatMap((step) => (from.includes(step.id) ? (step.uses ?? []) : [])));
}

/** The places that the next step asks for and that something must be said about, gravest first. */
export function askedSlots(
  running: RunningCase,
  materials: readonly Material[],
  nowWallMs: number,
  times: Times,
): readonly AskedSlot[] {
  const warmed = warmedByCase(running.log.state.opened.protocol);
  const against = (material: Material, slot: string): readonly MaterialWarning[] =>
    materialWarnings(material, nowWallMs, times).filter((w) => isGrave(w) || !warmed.has(slot));
  const asked = chairSlots(running, materials).flatMap((slot): AskedSlot[] => {
    if (!slot.isNow) return [];
    const { id, label, named, choices } = slot;
    if (named === null) {
      const [first] = choices;
      if (first === undefined) return [];
      const only = choices.length === 1 ? first : null;
      return [{ id, label, named, warnings: only === null ? [] : against(only, id), only }];
    }
    const onShelf = materials.find(
      (m) => sameLot(m.lot, named.lot) && sameClass(m.materialClass, named.materialClass),
    );
    const warnings = onShelf === undefined ? [] : against(onShelf, id);
    return warnings.length > 0 ? [{ id, label, named, warnings, only: null }] : [];
  });
  const rank = (slot: AskedSlot): number => (slot.warnings.some(isGrave) ? 0 : 1);
  return asked.toSorted((x, y) => rank(x) - rank(y));
}

/** One class that a protocol asks for, with what the shelf has of it: said while preparing. */
export interface ShelfLine {
  readonly id: string;
  readonly label: string;
  readonly materialClass: string;
  readonly isOptional: boolean;
  /** The lot that would be used up first among those that nothing grave speaks against. */
  readonly best: Material | null;
  readonly warnings: readonly MaterialWarning[];
}

/** Every slot of a protocol with the lot on the shelf that would do, or what is in the way. */
export function shelfFor(
  protocol: Pick<Protocol, 'slots'>,
  materials: readonly Material[],
  nowWallMs: number,
  times: Times,
): readonly ShelfLine[] {
  return protocol.slots.map((slot): ShelfLine => {
    const lots = materials
      .filter((m) => m.goneOnWallMs === undefined && sameClass(m.materialClass, slot.materialClass))
      .toSorted(byLastDay);
    const best =
      lots.find((m) => !materialWarnings(m, nowWallMs, times).some(isGrave)) ?? lots[0] ?? null;
    return {
      id: slot.id,
      label: slot.label,
      materialClass: slot.materialClass,
      isOptional: slot.optional === true,
      best,
      warnings: best === null ? [] : materialWarnings(best, nowWallMs, times),
    };
  });
}
