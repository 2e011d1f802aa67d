/**
 * Units of a case while they are typed: teeth taken in and out, bridges joined and parted, pontics,
 * the share of light that passes. All figures are text until the case is saved. Pure.
 */
import { type CeramicRow, rowsFor } from '../../plan/plan-tables.ts';
import type { Unit } from '../../protocol/case-types.ts';
import { signedPosition, toothPlace } from '../parts/tooth-order.ts';
import { numberOf, text, trimmed, without } from './set-up-text.ts';

export interface DraftUnit {
  readonly id: string;
  /** Teeth it is bonded to; at least one. */
  readonly teeth: readonly string[];
  /** Teeth that it replaces. */
  readonly pontics: readonly string[];
  readonly restoration: string;
  readonly material: string;
  readonly thickness: string;
  /** Empty while nobody has said. */
  readonly opacity: string;
  readonly conditioned: string;
  readonly shade: string;
  readonly passes: DraftPasses;
}

/** The part of a draft that holds its units. */
export interface SeatedUnits {
  readonly units: readonly DraftUnit[];
  /** People moved a unit themselves: new teeth then go to the end. */
  readonly isOwnOrder: boolean;
}

/** The share of light that passes: unknown, measured here, or taken from a published row. */
export interface DraftPasses {
  readonly kind: 'unknown' | 'measured' | 'published';
  /** In percent. */
  readonly share: string;
  readonly at: string;
  readonly basis: string;
}

export const PASSES_UNKNOWN: DraftPasses = { kind: 'unknown', share: '', at: '', basis: '' };

/** Percent to four decimals, so that no binary remainder is shown. */
export const percentText = (share: number): string => String(Math.round(share * 1e6) / 1e4);

export function unitDraft(u: Unit): DraftUnit {
  const { transmittance: t } = u;
  return {
    id: u.id,
    teeth: u.teeth,
    pontics: u.pontics ?? [],
    restoration: u.restoration,
    material: u.material,
    thickness: text(u.thicknessMm),
    opacity: u.opacity ?? '',
    conditioned: u.conditioned ?? '',
    shade: u.shade ?? '',
    passes:
      t === undefined
        ? PASSES_UNKNOWN
        : {
            kind: t.kind,
            share: percentText(t.share),
            at: text(t.atThicknessMm),
            basis: t.basis,
          },
  };
}

function shareOf(typed: string, was: number | undefined): unknown {
  if (was !== undefined && typed === percentText(was)) return was;
  const percent = numberOf(typed);
  return typeof percent === 'number' ? Math.round(percent * 1e4) / 1e6 : percent;
}

function passesFile({ passes }: DraftUnit, was: Unit | undefined): unknown {
  const { kind, share, at, basis } = passes;
  if (kind === 'unknown') return undefined;
  const known = was?.transmittance;
  return without({
    kind,
    share: shareOf(share, known?.share),
    atThicknessMm: numberOf(at),
    basis: trimmed(basis, known?.basis),
  });
}

/** The unit as the file has it; `was` is what it was when the draft was begun. */
export function unitFile(u: DraftUnit, was: Unit | undefined): Record<string, unknown> {
  const hasPontics = u.pontics.length > 0 || was?.pontics?.length === 0;
  return without({
    ...was,
    id: u.id,
    teeth: u.teeth,
    pontics: hasPontics ? u.pontics : undefined,
    restoration: u.restoration,
    material: u.material,
    thicknessMm: numberOf(u.thickness),
    opacity: u.opacity === '' ? undefined : u.opacity,
    conditioned: u.conditioned === '' ? undefined : u.conditioned,
    shade: trimmed(u.shade, was?.shade),
    transmittance: passesFile(u, was),
  });
}

/** Centrals first, upper before lower, the patient's right before the left. Common practice. */
export function seatingOrder(units: readonly DraftUnit[]): DraftUnit[] {
  const rank = (unit: DraftUnit): number => {
    const place = toothPlace(unit.teeth[0] ?? '');
    if (!place) return Number.MAX_SAFE_INTEGER;
    const jaw = place.jaw === 'upper' ? 0 : 100;
    return jaw + place.fromMidline * 2 + (place.side === 'right' ? 0 : 1);
  };
  return units.toSorted((a, b) => rank(a) - rank(b));
}

/** Bonded teeth and pontics of a unit from the left of the picture to its right. */
export function teethInOrder(unit: Pick<DraftUnit, 'teeth' | 'pontics'>): readonly string[] {
  const at = (tooth: string): number => {
    const place = toothPlace(tooth);
    return place ? signedPosition(place) : 0;
  };
  return [...unit.teeth, ...unit.pontics].toSorted((a, b) => at(a) - at(b));
}

function freeId(draft: Pick<SeatedUnits, 'units'>, wanted: string): string {
  const taken = new Set(draft.units.map((u) => u.id));
  let id = wanted;
  for (let n = 2; taken.has(id); n += 1) id = `${wanted}-${n}`;
  return id;
}

const ordered = <D extends SeatedUnits>(draft: D, units: readonly DraftUnit[]): D => ({
  ...draft,
  units: draft.isOwnOrder ? units : seatingOrder(units),
});

/** Takes a tooth in or out. A new unit is like the last one; a unit without a bonded tooth goes. */
export function toggleTooth<D extends SeatedUnits>(draft: D, tooth: string): D {
  const isOther = (t: string): boolean => t !== tooth;
  if (draft.units.some((u) => u.teeth.includes(tooth) || u.pontics.includes(tooth))) {
    const units = draft.units
      .map((u) => ({ ...u, teeth: u.teeth.filter(isOther), pontics: u.pontics.filter(isOther) }))
      .filter((u) => u.teeth.length > 0);
    return { ...draft, units };
  }
  const last = draft.units.at(-1);
  const unit: DraftUnit = {
    restoration: 'veneer',
    material: 'lithium-disilicate',
    thickness: '',
    opacity: '',
    conditioned: '',
    shade: '',
    passes: PASSES_UNKNOWN,
    ...last,
    id: freeId(draft, tooth),
    teeth: [tooth],
    pontics: [],
  };
  return ordered(draft, [...draft.units, unit]);
}

const jawOf = (unit: DraftUnit): string | undefined => toothPlace(unit.teeth[0] ?? '')?.jaw;

/** Units that one could be joined with: all others of its jaw. */
export function joinable(draft: SeatedUnits, index: number): readonly DraftUnit[] {
  const unit = draft.units[index];
  return draft.units.filter((u) => unit && u.id !== unit.id && jawOf(u) === jawOf(unit));
}

/** Makes one unit, a bridge, of two; it keeps the place of the first. */
export function joinUnits<D extends SeatedUnits>(
  draft: D,
  o: { readonly index: number; readonly other: string },
): D {
  const unit = draft.units[o.index];
  const other = draft.units.find((u) => u.id === o.other);
  if (!unit || !other || unit.id === other.id) return draft;
  const pontics = [...unit.pontics, ...other.pontics];
  const joined = { ...unit, teeth: [...unit.teeth, ...other.teeth], pontics };
  const bonded = teethInOrder(joined).filter((t) => !pontics.includes(t));
  const units = draft.units
    .filter((u) => u.id !== other.id)
    .map((u) => (u.id === unit.id ? { ...joined, teeth: bonded, restoration: 'bridge' } : u));
  return { ...draft, units };
}

/** Takes a bridge apart: a unit for each of its teeth, pontics included, at its place. */
export function partUnit<D extends SeatedUnits>(draft: D, index: number): D {
  const unit = draft.units[index];
  if (!unit) return draft;
  const restoration = unit.restoration === 'bridge' ? 'crown' : unit.restoration;
  const rest = draft.units.filter((u) => u.id !== unit.id);
  const parts: DraftUnit[] = [];
  for (const tooth of teethInOrder(unit)) {
    const id = freeId({ units: rest.concat(parts) }, tooth);
    parts.push({ ...unit, id, teeth: [tooth], pontics: [], restoration });
  }
  const units = [...draft.units.slice(0, index), ...parts, ...draft.units.slice(index + 1)];
  return ordered(draft, units);
}

/** Whether a tooth of a bridge is replaced or bonded; the last bonded one stays bonded. */
export function setPontic<D extends SeatedUnits>(
  draft: D,
  o: { readonly index: number; readonly tooth: string; readonly isPontic: boolean },
): D {
  const unit = draft.units[o.index];
  if (!unit) return draft;
  const isOther = (t: string): boolean => t !== o.tooth;
  const teeth = unit.teeth.filter(isOther);
  const pontics = unit.pontics.filter(isOther);
  const next = o.isPontic
    ? { teeth, pontics: [...pontics, o.tooth] }
    : { teeth: [...teeth, o.tooth], pontics };
  if (next.teeth.length === 0) return draft;
  const inOrder = teethInOrder(next);
  const change = {
    teeth: inOrder.filter((t) => next.teeth.includes(t)),
    pontics: inOrder.filter((t) => next.pontics.includes(t)),
  };
  return changeUnit(draft, { index: o.index, change });
}

export function moveUnit<D extends SeatedUnits>(
  draft: D,
  o: { readonly index: number; readonly by: -1 | 1 },
): D {
  const to = o.index + o.by;
  const moved = draft.units[o.index];
  if (!moved || to < 0 || to >= draft.units.length) return draft;
  const rest = draft.units.filter((_, i) => i !== o.index);
  const units = [...rest.slice(0, to), moved, ...rest.slice(to)];
  return { ...draft, units, isOwnOrder: true };
}

export function changeUnit<D extends SeatedUnits>(
  draft: D,
  o: { readonly index: number; readonly change: Partial<DraftUnit> },
): D {
  const units = draft.units.map((u, i) => (i === o.index ? { ...u, ...o.change } : u));
  return { ...draft, units };
}

/** Restoration, material, thickness, shade and light of the first unit for all of them. */
export function allLikeFirst<D extends SeatedUnits>(draft: D): D {
  const first = draft.units[0];
  if (!first) return draft;
  const { restoration, material, thickness, opacity, conditioned, shade, passes } = first;
  const units = draft.units.map((u) => ({
    ...u,
    restoration,
    material,
    thickness,
    opacity,
    conditioned,
    shade,
    passes,
  }));
  return { ...draft, units };
}

/** The published row that a draft was taken from; undefined when it was typed or not known. */
export function rowOf(
  rows: readonly CeramicRow[],
  unit: Pick<DraftUnit, 'material' | 'passes'>,
): CeramicRow | undefined {
  const { kind, share, at, basis } = unit.passes;
  if (kind !== 'published') return undefined;
  return rowsFor(rows, unit.material).find(
    (row) =>
      percentText(row.transmittance) === share &&
      text(row.thicknessMm) === at &&
      row.source === basis,
  );
}

/** A published row as what is known of a unit. */
export const passesOfRow = (row: CeramicRow): DraftPasses => ({
  kind: 'published',
  share: percentText(row.transmittance),
  at: text(row.thicknessMm),
  basis: row.source,
});
