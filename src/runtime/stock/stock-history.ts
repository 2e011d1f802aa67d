/** What the facts of all boxes tell together: the history of one, its last like, who was named. Pure. */
import { MS_PER_MINUTE } from '../../base/units.ts';
import { hasRightCheckDigit } from '../../calc/udi/gs1.ts';
import { sameLot } from './same-lot.ts';
import { type LotRecall, recalledFrom, type StockEntry, type StockEvent } from './stock-facts.ts';
import type { Material } from './stock-types.ts';

/** A number of trade of 8, 12 or 13 digits is one of 14 with zeros in front (GS1 General Specifications). */
export function deviceKey(identifier: string): string {
  const bare = identifier.replace(/\s|^\+/g, '').toUpperCase();
  return /^(\d{8}|\d{12,13})$/.test(bare) ? bare.padStart(14, '0') : bare;
}

/** A number of trade has a check digit; others are taken as they are. */
export function isDeviceIdentifier(text: string): boolean {
  const key = deviceKey(text);
  return !/^\d{14}$/.test(key) || hasRightCheckDigit(key);
}

const isOfLot = ({ said }: StockEvent): boolean =>
  said.type === 'recalled' || said.type === 'recall-lifted';

/** One mark of a lot is a fact of each of its boxes: said at one time by one person, it is told once. */
function markKey({ said, by, tablet, atWallMs }: StockEvent): string {
  const atMinute = Math.floor(atWallMs / MS_PER_MINUTE);
  const at = said.type === 'recalled' ? said.onWallMs : atMinute;
  return JSON.stringify([said.type, 'reason' in said ? said.reason : '', by, tablet, at]);
}

/** Every recall that stands; boxes of one lot carry one each. */
export const recallsIn = (entries: readonly StockEntry[]): readonly LotRecall[] =>
  entries.flatMap(({ recalls }) => recalls);

/** A recall is of the lot: a box that is entered after it, or on another tablet, is marked as well. */
export function withRecalls(
  materials: readonly Material[],
  recalls: readonly LotRecall[],
): readonly Material[] {
  return materials.map((material) => {
    if (material.recalled !== undefined) return material;
    const recalled = recalledFrom(recalls.filter(({ lot }) => sameLot(lot, material.lot)));
    return recalled === undefined ? material : { ...material, recalled };
  });
}

/** What was done to a box, and the marks of its lot that other boxes carry. */
export function historyIn(entries: readonly StockEntry[], id: string): readonly StockEvent[] {
  const own = entries.find(({ material }) => material.id === id);
  if (own === undefined) return [];
  const told = new Set(own.events.filter(isOfLot).map(markKey));
  const others = entries
    .filter((entry) => entry !== own && sameLot(entry.material.lot, own.material.lot))
    .flatMap(({ events }) => events.filter(isOfLot))
    .filter((event) => {
      const key = markKey(event);
      return told.has(key) ? false : told.add(key);
    });
  if (others.length === 0) return own.events;
  return [...own.events, ...others].toSorted((a, b) => a.atWallMs - b.atWallMs);
}

/** When the box came, as far as anybody said. */
const cameAtMs = ({ events }: StockEntry): number =>
  events.find(({ said }) => said.type === 'received')?.atWallMs ?? events[0]?.atWallMs ?? 0;

/** The box of a device identifier that came last; used up or not, but not one entered by mistake. */
export function lastBoxIn(
  entries: readonly StockEntry[],
  deviceIdentifier: string,
): Material | null {
  const key = deviceKey(deviceIdentifier);
  if (key === '') return null;
  const like = entries.filter(
    ({ material, isStruck }) => !isStruck && deviceKey(material.deviceIdentifier ?? '') === key,
  );
  const last = like.toSorted((a, b) => cameAtMs(a) - cameAtMs(b)).at(-1);
  return last?.material ?? null;
}

/** Everybody who was named, by name. */
export function peopleIn(entries: readonly StockEntry[]): readonly string[] {
  const named = entries.flatMap(({ events }) => events.flatMap(({ by }) => by ?? []));
  return [...new Set(named)].filter((by) => by !== '').toSorted();
}
