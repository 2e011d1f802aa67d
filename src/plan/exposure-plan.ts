/**
 * What light each surface of a unit is to receive: for how long in each position of the tip, and
 * in which positions. The time is the longer of the product's own and the one that brings the dose
 * through the ceramic, of which the case file names the share that passes; else it is the lowest
 * published one. Irradiance in mW/cm2, dose in J/cm2, lengths in mm, times in ms.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { crownSize, surfaceRectangle } from '../calc/crown-size.ts';
import {
  exposureCalc,
  exposureSeconds,
  scaledTransmittance,
  transmittanceCalc,
} from '../calc/light-dose.ts';
import { coveringSpots, spotsCalc } from '../calc/spots.ts';
import type { SurfacePlan } from '../engine/types.ts';
import type { Action, CaseFile, Step, Surface, Unit } from '../protocol/types.ts';
import { type Explained, type Explanation, explain, sourceOf } from './explanation.ts';
import { darkestRow, type PlanTables } from './plan-tables.ts';

type Expose = Extract<Action, { kind: 'expose' }>;

/** Assumed where the case file names none and a dose is all there is (common practice, no source). */
const THICKNESS_ASSUMED_MM = 1;
/** No meter reads less behind a restoration; what is computed below it is planned as this (own choice). */
const SHARE_FLOOR = 1e-6;
/** Longer than a day nothing is lit: such a plan shows that the light does not get through. */
const LIGHT_SECONDS_MAX = 86_400;
/** Height of an incisal edge for covering it with the tip (common practice, no source). */
const INCISAL_EDGE_MM = 2;

interface Setting {
  readonly spec: CaseFile;
  readonly step: Step;
  readonly action: Expose;
  readonly unit: Unit;
  readonly tables: PlanTables | null;
  readonly covers: CoverCache;
}

/** A veneer carries ceramic on the face and the edge only; every other restoration all around. */
function carriesCeramic(unit: Unit, surface: Surface): boolean {
  if (!unit.restoration.includes('veneer')) return true;
  return surface === 'facial' || surface === 'incisal';
}

const explanationId = (s: Setting, surface: Surface): string =>
  `exposure/${s.step.id}/${s.unit.id}/${surface}`;

/** What is known of the ceramic, from the case file or else from the table. */
interface KnownShare {
  readonly share: number;
  readonly atThicknessMm: number;
  /** Whose it is, in words. */
  readonly basis: string;
  readonly decidedBy: 'measured' | 'published-row' | 'table';
}

function knownShare(s: Setting): KnownShare | null {
  const own = s.unit.transmittance;
  if (own !== undefined) {
    const decidedBy = own.kind === 'measured' ? 'measured' : 'published-row';
    const { share, atThicknessMm, basis } = own;
    return { share, atThicknessMm, basis, decidedBy };
  }
  const row = darkestRow(s.tables?.ceramics ?? []);
  if (row === null) return null;
  const { transmittance: share, thicknessMm: atThicknessMm, source: basis } = row;
  return { share, atThicknessMm, basis, decidedBy: 'table' };
}

/** Share of the light that reaches the cement; null when no table can say. */
function transmittanceOf(s: Setting, surface: Surface): Explained<number> | null {
  if (!carriesCeramic(s.unit, surface)) return { value: 1, why: [] };
  const known = knownShare(s);
  if (known === null) return s.tables === null ? { value: 1, why: [] } : null;
  const thicknessMm = thicknessOf(s, known);
  if (thicknessMm === null) return null;
  const input = {
    knownTransmittance: known.share,
    knownThicknessMm: known.atThicknessMm,
    thicknessMm,
    surfaceFactor: 1,
  };
  const scaled = scaledTransmittance(input);
  if (!scaled.ok) return null;
  const value = Math.max(SHARE_FLOOR, scaled.value);
  const why = explain({
    id: `transmittance/${s.unit.id}`,
    value,
    unit: 'share',
    formula: 'transmittance-at-this-thickness',
    inputs: { ...input, material: s.unit.material },
    source: `${known.basis}; ${sourceOf(transmittanceCalc, input)}`,
    calc: { name: transmittanceCalc.name, input },
    decidedBy: known.decidedBy,
  });
  return { value, why: [why] };
}

/**
 * Thickness that the light has to pass, in mm. Where the case file names none, what was given for
 * the unit is taken to be given for the unit as it is.
 */
function thicknessOf(s: Setting, known: KnownShare): number | null {
  if (s.unit.thicknessMm !== undefined) return s.unit.thicknessMm;
  if (known.decidedBy !== 'table') return known.atThicknessMm;
  return s.action.perSurfaceMs === undefined ? THICKNESS_ASSUMED_MM : null;
}

/** Whole seconds for the dose at the cement, a day at most; null when no dose is wanted. */
function doseSeconds(s: Setting, surface: Surface): Explained<number> | null {
  const doseJPerCm2 = s.action.doseJPerCm2?.value;
  if (doseJPerCm2 === undefined) return null;
  // Where nothing is known, the product's own time stands alone.
  const isKnown = s.tables !== null || s.unit.transmittance !== undefined;
  if (!isKnown && s.action.perSurfaceMs !== undefined) return null;
  const share = transmittanceOf(s, surface);
  if (share === null) return null;
  const { irradianceMwPerCm2 } = s.spec.light;
  const input = { irradianceMwPerCm2, doseJPerCm2, transmittance: share.value };
  const seconds = exposureSeconds(input);
  const why = explain({
    id: `${explanationId(s, surface)}/dose`,
    value: seconds,
    unit: 's',
    formula: 'time-for-the-dose',
    inputs: input,
    source: sourceOf(exposureCalc, input),
    calc: { name: exposureCalc.name, input },
    decidedBy: 'dose',
  });
  const value = Math.min(LIGHT_SECONDS_MAX, Math.ceil(seconds - 1e-9));
  return { value, why: [why, ...share.why] };
}

/** Rectangle around one surface of one tooth, in mm. */
function rectangleOf(
  fdi: number,
  surface: Surface,
  tables: PlanTables,
): { widthMm: number; heightMm: number } | null {
  const row = crownSize(fdi, tables.crowns);
  if (!row.ok) return null;
  return surface === 'incisal'
    ? { widthMm: row.value.mesiodistalMm, heightMm: INCISAL_EDGE_MM }
    : surfaceRectangle(row.value, surface);
}

type Covered = NonNullable<SurfacePlan['covers']>;

type Spots = Covered['spots'];

/** Coverings found so far: teeth of one kind share theirs. Null when none was found. */
export type CoverCache = Map<string, Spots | null>;

const EASY_COVER = { widthMm: 1, heightMm: 1, tipDiameterMm: 2 };

function spotsFor(
  s: Setting,
  input: { readonly widthMm: number; readonly heightMm: number; readonly tipDiameterMm: number },
): Spots | null {
  const key = `${input.widthMm} ${input.heightMm} ${input.tipDiameterMm}`;
  const known = s.covers.get(key);
  if (known !== undefined) return known;
  const found = coveringSpots(input);
  const spots = found.ok ? found.value : null;
  s.covers.set(key, spots);
  return spots;
}

/**
 * Positions of the tip on the largest tooth of the unit. One position where the exposure is not
 * meant to cover a surface (no dose is asked), and where it only reaches a margin from the side.
 */
function coveringOf(s: Setting, surface: Surface): Explained<Covered> | null {
  if (s.tables === null || s.action.doseJPerCm2 === undefined) return null;
  if (!carriesCeramic(s.unit, surface)) return null;
  const { tipDiameterMm } = s.spec.light;
  let best: Explained<Covered> | null = null;
  for (const tooth of s.unit.teeth) {
    const rectangle = rectangleOf(Number(tooth), surface, s.tables);
    if (rectangle === null) continue;
    const input = { ...rectangle, tipDiameterMm };
    const spots = spotsFor(s, input);
    if (spots === null) continue;
    if (best !== null && spots.length <= best.value.spots.length) continue;
    const why = explain({
      id: `${explanationId(s, surface)}/positions`,
      value: spots.length,
      unit: 'positions',
      formula: 'tip-positions',
      inputs: { ...input, tooth },
      source: sourceOf(spotsCalc, EASY_COVER),
      calc: { name: spotsCalc.name, input },
      decidedBy: 'tip-size',
    });
    best = { value: { ...rectangle, spots }, why: [why] };
  }
  return best;
}

function surfacePlan(s: Setting, surface: Surface): Explained<SurfacePlan> {
  const productSeconds = (s.action.perSurfaceMs?.value ?? 0) / MS_PER_SECOND;
  const dose = doseSeconds(s, surface);
  const covering = coveringOf(s, surface);
  const decidedBy = dose !== null && dose.value > productSeconds ? 'dose' : 'product';
  const seconds = Math.max(productSeconds, dose?.value ?? 0);
  const summary: Explanation = explain({
    id: explanationId(s, surface),
    value: seconds,
    unit: 's',
    formula: 'longest-exposure-time',
    inputs: { productSeconds, ...(dose === null ? {} : { doseSeconds: dose.value }) },
    source:
      'the longer of the product and the dose through the ceramic, in whole seconds, a day at most',
    calc: null,
    decidedBy,
  });
  const positions = covering?.value.spots.length ?? 1;
  const plan: SurfacePlan = {
    surface,
    setMs: Math.round(seconds * MS_PER_SECOND),
    positions,
    decidedBy,
    ...(covering === null ? {} : { covers: covering.value }),
  };
  return { value: plan, why: [summary, ...(dose?.why ?? []), ...(covering?.why ?? [])] };
}

/** What every surface of one unit is to receive in one exposing step. */
export function exposurePlan(o: {
  readonly spec: CaseFile;
  readonly step: Step;
  readonly unit: Unit;
  readonly tables: PlanTables | null;
  readonly covers: CoverCache;
}): Explained<readonly SurfacePlan[]> {
  const { action } = o.step;
  if (action.kind !== 'expose') return { value: [], why: [] };
  const surfaces = action.surfaces.map((surface) => surfacePlan({ ...o, action }, surface));
  return { value: surfaces.map((s) => s.value), why: surfaces.flatMap((s) => s.why) };
}
