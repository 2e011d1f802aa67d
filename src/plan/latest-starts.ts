/**
 * How late something may be begun on the day, computed back from the appointment: a refrigerated
 * material needs its whole warm-up before the patient comes. Times in ms since 1970, UTC.
 */
import type { CaseFile } from '../protocol/case-types.ts';
import type { MaterialSlot, Protocol, Window } from '../protocol/types.ts';

/**
 * The refrigerated materials that a warm-up is for: those that both of its steps use, and those that
 * come out with them and no other warm-up names.
 */
export function warmedBy(window: Window, protocol: Protocol): readonly MaterialSlot[] {
  const usedBy = (id: string) => protocol.steps.find((s) => s.id === id)?.uses ?? [];
  const out = protocol.slots.filter(
    (s) => s.refrigerated && usedBy(window.from.step).includes(s.id),
  );
  const named = new Set(
    protocol.windows
      .filter((w) => w.protects === 'warm' && w.from.step === window.from.step)
      .flatMap((w) => usedBy(w.to.step)),
  );
  const used = usedBy(window.to.step);
  return out.filter((s) => used.includes(s.id) || !named.has(s.id));
}

/** One refrigerated material with the moment until which it must be out. */
interface MaterialStart {
  readonly step: string;
  readonly window: string;
  readonly warmUpMs: number;
  readonly latestWallMs: number;
  readonly slot: MaterialSlot;
}

/**
 * The latest moment of each refrigerated material, in the order of the protocol's slots. A material
 * that several warm-ups name waits for the longest of them.
 */
export function latestMaterials(spec: CaseFile, protocol: Protocol): readonly MaterialStart[] {
  if (spec.scheduledFor === undefined) return [];
  const appointmentMs = Date.parse(spec.scheduledFor);
  const starts = protocol.windows.flatMap((window) => {
    const warmUpMs = (window.targetMs ?? window.minMs)?.value;
    if (window.protects !== 'warm' || warmUpMs === undefined) return [];
    const latestWallMs = appointmentMs - warmUpMs;
    const start = { step: window.from.step, window: window.id, warmUpMs, latestWallMs };
    return warmedBy(window, protocol).map((slot) => ({ ...start, slot }));
  });
  return protocol.slots.flatMap((slot) => {
    const own = starts.filter((s) => s.slot.id === slot.id);
    return own.toSorted((a, b) => b.warmUpMs - a.warmUpMs).slice(0, 1);
  });
}
