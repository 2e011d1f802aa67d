/**
 * Where a line of a sheet may stand: the numbers of a protocol that are about its class of material,
 * those that fit its group and its bound first. It only proposes; somebody ticks. Pure.
 */
import type { FigureKey } from './edit-types.ts';
import type { DraftLine } from './sheet-draft.ts';
import { readSheetEntry } from './sheet-entry.ts';
import { isLikeSpot, isSameSpot, type SheetPlace, sheetPlaces } from './sheet-places.ts';
import { type SheetGroup, valueForKey } from './sheet-types.ts';
import type { Protocol, Step, Window } from './types.ts';

type Asked = Pick<DraftLine, 'group' | 'unit' | 'bound' | 'text' | 'spots'>;

export interface ProposedSpot {
  readonly place: SheetPlace;
  /** It is about the material, its kind of step fits the group, and its side the bound. */
  readonly fits: boolean;
  /** It has the number of the line already. */
  readonly isSameValue: boolean;
  readonly isBound: boolean;
}

/** How many steps that use nothing of their own stand behind one that uses the material: rinse, air. */
const FOLLOWING_MAX = 3;

interface Near {
  readonly uses: ReadonlySet<string>;
  readonly follows: ReadonlySet<string>;
}

/** The steps that use the class, by their ids. */
export function stepsUsing(protocol: Protocol, materialClass: string): ReadonlySet<string> {
  const slots = new Set(
    protocol.slots.flatMap((slot) => (slot.materialClass === materialClass ? [slot.id] : [])),
  );
  return new Set(
    protocol.steps.flatMap((s) => (s.uses?.some((slot) => slots.has(slot)) ? [s.id] : [])),
  );
}

/** The place, with whether its step uses the class by now. */
function usedPlace(place: SheetPlace, uses: ReadonlySet<string>): SheetPlace {
  const { spot } = place;
  const isUsed = spot.part === 'steps' && uses.has(spot.id);
  return isUsed ? { ...place, spot: { ...spot, used: true } } : place;
}

/** The steps that use the class, and those that only follow them. */
function stepsNear(protocol: Protocol, materialClass: string): Near {
  const uses = stepsUsing(protocol, materialClass);
  const follows = new Set<string>();
  for (let turn = 0; turn < FOLLOWING_MAX; turn += 1) {
    const known = new Set([...uses, ...follows]);
    for (const step of protocol.steps) {
      const isBehind = step.after.some((after) => known.has(after.step));
      if (isBehind && (step.uses ?? []).length === 0 && !uses.has(step.id)) follows.add(step.id);
    }
  }
  return { uses, follows };
}

const isRinse = ({ rangeClass = '', id }: Step): boolean =>
  rangeClass.startsWith('rinse') || /rins/.test(id);

function stepFits(group: SheetGroup, step: Step, key: FigureKey): boolean {
  const { kind } = step.action;
  switch (group) {
    case 'etch':
      return kind === 'dwell' && !isRinse(step);
    case 'rinse':
      return kind === 'dwell' && isRinse(step);
    case 'coats':
      return key === 'action.count' || (kind === 'dwell' && step.usesLight !== true);
    case 'waiting':
      return (
        key === 'action.gapMsMin' ||
        key === 'action.restMs' ||
        (kind === 'dwell' && step.usesLight !== true && !isRinse(step))
      );
    case 'light':
      return key !== 'action.restMs' && (kind === 'expose' || step.usesLight === true);
    default:
      return false;
  }
}

const WINDOW_GROUPS: Readonly<Partial<Record<SheetGroup, readonly Window['protects'][]>>> = {
  waiting: ['wet', 'shield', 'other', 'hold'],
  'working-time': ['working'],
  'setting-time': ['hold'],
  'warm-up': ['warm'],
};

function sideFits(bound: Asked['bound'], key: string): boolean {
  if (/minMs$|gapMsMin$|restMs$/.test(key)) return bound === 'least';
  if (/maxMs$/.test(key)) return bound === 'most';
  return bound === 'target' || key === 'action.perSurfaceMs' || key === 'action.doseJPerCm2';
}

/** Whether a number is about the material at all, and whether it is of the group. */
function judged(protocol: Protocol, near: Near, place: SheetPlace, group: SheetGroup) {
  const { id, key, part } = place.spot;
  if (part === 'windows') {
    const window = protocol.windows.find((w) => w.id === id);
    if (window === undefined) return { isAbout: false, fits: false };
    const ends = [window.from.step, window.to.step];
    const isAbout = ends.some((step) => near.uses.has(step) || near.follows.has(step));
    return { isAbout, fits: isAbout && WINDOW_GROUPS[group]?.includes(window.protects) === true };
  }
  const step = protocol.steps.find((s) => s.id === id);
  if (step === undefined) return { isAbout: false, fits: false };
  const isLit = group === 'light' && near.uses.size > 0;
  const isAbout =
    near.uses.has(id) || near.follows.has(id) || (isLit && stepFits(group, step, key));
  const isNear = near.uses.has(id) || group === 'rinse' || group === 'waiting' || isLit;
  return { isAbout, fits: isAbout && isNear && stepFits(group, step, key) };
}

/** 0 for what stands first. */
const rank = ({ isBound, fits, isSameValue }: ProposedSpot): number =>
  (isBound ? 0 : 4) + (fits ? 0 : 2) + (isSameValue ? 0 : 1);

/**
 * The numbers of one protocol that a line can stand behind, of those about its class of material:
 * ticked ones first, then those that fit, of these the ones with the same value first.
 */
export function proposedSpots(
  protocol: Protocol,
  o: { readonly materialClass: string; readonly line: Asked },
): readonly ProposedSpot[] {
  const { line, materialClass } = o;
  const near = stepsNear(protocol, materialClass);
  const value = readSheetEntry(line.text, line.unit);
  const found = sheetPlaces(protocol).flatMap((place): ProposedSpot[] => {
    const { spot, figure } = place;
    const mine = valueForKey({ value: value.ok ? value.value : 0, unit: line.unit }, spot.key);
    if (mine === null) return [];
    const isBound = line.spots.some((other) => isSameSpot(other, spot));
    const { isAbout, fits } = judged(protocol, near, place, line.group);
    if (!isAbout && !isBound) return [];
    const isSameValue = value.ok && mine === figure?.value;
    const isOfSide = sideFits(line.bound, spot.key);
    const used = usedPlace(place, near.uses);
    return [{ place: used, fits: fits && isOfSide, isSameValue, isBound }];
  });
  return found.toSorted((a, b) => rank(a) - rank(b));
}

/**
 * The lines with the places that they have in other protocols also in this one, where it uses the
 * class of material and calls its steps alike: a family that was made as a copy. Null where none is new.
 */
export function withLikePlaces(
  protocol: Protocol,
  o: { readonly materialClass: string; readonly lines: readonly DraftLine[] },
): { readonly lines: readonly DraftLine[]; readonly added: number } | null {
  const { materialClass, lines } = o;
  const uses = stepsUsing(protocol, materialClass);
  if (uses.size === 0) return null;
  const here = sheetPlaces(protocol).map((place) => usedPlace(place, uses));
  let added = 0;
  const next = lines.map((line): DraftLine => {
    const isLike = (place: SheetPlace): boolean =>
      line.spots.some((spot) => isLikeSpot(spot, place.spot));
    const fresh = here
      .filter(
        (place) => isLike(place) && valueForKey({ value: 1, unit: line.unit }, place.spot.key),
      )
      .map(({ spot }) => spot)
      .filter((spot) => !line.spots.some((known) => isSameSpot(known, spot)));
    added += fresh.length;
    return fresh.length === 0 ? line : { ...line, spots: [...line.spots, ...fresh] };
  });
  return added === 0 ? null : { lines: next, added };
}
