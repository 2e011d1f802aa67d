/**
 * What runs out before the prepared cases: for the day of each, what its protocol asks for and the shelf
 * will not have. Days are those of the clinic's calendar. Pure.
 */
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import { instantOf, type Times } from '../../words/date-words.ts';
import { lastDayOf } from './last-day.ts';
import { sameClass } from './same-lot.ts';
import type { Material } from './stock-types.ts';

interface LotAhead {
  readonly id: string;
  readonly label: string;
  readonly lot: string;
  readonly why: 'recalled' | 'expired' | 'opened-too-long';
  /** ISO 8601; null for a recalled lot. */
  readonly lastDay: string | null;
}

export interface SlotAhead {
  readonly slot: string;
  readonly label: string;
  readonly materialClass: string;
  /** No lot will do on that day. */
  readonly isMissing: boolean;
  /** A lot is there that will do on that day. */
  readonly isAnotherLeft: boolean;
  /** No lot of its class was ever on the list: the clinic may have it all the same. */
  readonly isUnlisted: boolean;
  /** Lots that are there and will not do. */
  readonly lots: readonly LotAhead[];
}

export interface CaseAhead {
  readonly id: string;
  readonly title: string;
  readonly chartRef: string;
  /** ISO 8601; null where the case has no appointment: it is then judged as of today. */
  readonly day: string | null;
  /** False where its protocol is not here: what the case needs cannot be told. */
  readonly isKnown: boolean;
  readonly slots: readonly SlotAhead[];
}

/** Why a lot will not do on a day; null where it will. */
function against(material: Material, day: string): LotAhead | null {
  const { id, label, lot, recalled } = material;
  if (recalled !== undefined) return { id, label, lot, why: 'recalled', lastDay: null };
  const last = lastDayOf(material);
  if (last === null || last.day >= day) return null;
  const why = last.because === 'opened' ? 'opened-too-long' : 'expired';
  return { id, label, lot, why, lastDay: last.day };
}

interface AheadInput {
  readonly prepared: readonly CaseFile[];
  readonly protocols: readonly Protocol[];
  readonly materials: readonly Material[];
  readonly times: Times;
  readonly nowMs: number;
}

function slotsAhead(protocol: Protocol, day: string, o: AheadInput): readonly SlotAhead[] {
  return protocol.slots.flatMap((slot): SlotAhead[] => {
    const { id, label, materialClass, optional = false } = slot;
    const known = o.materials.filter((m) => sameClass(m.materialClass, materialClass));
    const own = known.filter((m) => m.goneOnWallMs === undefined);
    const isUnlisted = known.length === 0;
    const lots = own.flatMap((material) => against(material, day) ?? []);
    const isAnotherLeft = lots.length < own.length;
    const isMissing = !optional && !isAnotherLeft;
    return isMissing || lots.length > 0
      ? [{ slot: id, label, materialClass, isMissing, isAnotherLeft, isUnlisted, lots }]
      : [];
  });
}

/** Cases from today on for which something is missing, drops out or cannot be told, the soonest first. */
export function shelfAhead(o: AheadInput): readonly CaseAhead[] {
  // Who keeps no list is not told that everything is missing.
  if (o.materials.length === 0) return [];
  const today = o.times.isoDay(o.nowMs);
  const cases = o.prepared.flatMap((spec): CaseAhead[] => {
    const protocol = o.protocols.find(({ id }) => id === spec.protocol);
    const atMs = instantOf(spec.scheduledFor);
    const day = atMs === null ? null : o.times.isoDay(atMs);
    if (day !== null && day < today) return [];
    const isKnown = protocol !== undefined;
    const slots = isKnown ? slotsAhead(protocol, day ?? today, o) : [];
    const { id, title, chartRef } = spec;
    return isKnown && slots.length === 0 ? [] : [{ id, title, chartRef, day, isKnown, slots }];
  });
  return cases.toSorted((a, b) => (a.day ?? '').localeCompare(b.day ?? ''));
}

/** How many of them lack something that the clinic keeps on its list. */
export const casesLacking = (ahead: readonly CaseAhead[]): number =>
  ahead.filter(({ slots }) => slots.some(({ isMissing, isUnlisted }) => isMissing && !isUnlisted))
    .length;
