/**
 * What light each surface of a unit, or of one tooth that carries it, is to receive: for how long in
 * each position of the tip, and in which positions. Irradiance in mW/cm2, dose in J/cm2, lengths in
 * mm, times in ms.
 */

import { MS_PER_SECOND } from '../base/units.ts';
import { crownSize, surfaceRectangle } from '../calc/crown-size.ts';
import { exposureCalc } from '../calc/light-dose.ts';
import { crownSpots, crownSpotsCalc } from '../calc/spots-crown.ts';
import type { LightReason, SurfacePlan } from '../engine/run-plan-types.ts';
import type { CaseFile, Unit } from '../protocol/case-types.ts';
import { allHold, type Facts } from '../protocol/conditions.ts';
import type { Action, Step, Surface } from '../protocol/types.ts';
import { type Explained, explain, sourceOf } from './explanation.ts';
import { type PlaceTime, placeTime } from './exposure-time.ts';
import { unitShare } from './light-share.ts';
import type { PlanTables } from './plan-tables.ts';

type Expose = Extract<Action, { kind: 'expose' }>;

/** Assumed where the case file names none and a dose is all there is (common practice, no source). */
const THICKNESS_ASSUMED_MM = 1;
/** Height of an incisal edge for covering it with the tip (common practice, no source). */
const INCISAL_EDGE_MM = 2;

interface Setting {
  readonly spec: CaseFile;
  readonly step: Step;
  readonly action: Expose;
  readonly unit: Unit;
  /** Bare id of the unit or tooth that the step is done to, and the teeth that stand for it. */
  readonly subject: string;
  readonly teeth: readonly string[];
  readonly tables: PlanTables | null;
  readonly covers: CoverCache;
}

/** A veneer carries ceramic on the face and the edge only; every other restoration all around. */
function carriesCeramic(unit: Unit, surface: Surface): boolean {
  if (!unit.restoration.includes('veneer')) return true;
  return surface === 'facial' || surface === 'incisal';
}

const explanationId = (s: Setting, surface: Surface): string =>
  `exposure/${s.step.id}/${s.subject}/${surface}`;

/**
 * Thickness that the light has to pass, in mm; null where nobody named one. What was given for the
 * unit without a thickness is taken to be given for the unit as it is.
 */
function thicknessOf({ unit, action }: Setting): number | null {
  if (unit.thicknessMm !== undefined) return unit.thicknessMm;
  if (unit.transmittance !== undefined) return unit.transmittance.atThicknessMm;
  return action.perSurfaceMs === undefined ? THICKNESS_ASSUMED_MM : null;
}

/** What reaches the cement, and through how much; null when no table can say. */
interface Passing {
  readonly share: Explained<number>;
  readonly behindMm: number | null;
}

function passingOf(s: Setting, surface: Surface): Passing | null {
  if (!carriesCeramic(s.unit, surface)) return { share: { value: 1, why: [] }, behindMm: null };
  const thicknessMm = thicknessOf(s);
  const isKnown = s.tables !== null || s.unit.transmittance !== undefined;
  if (!isKnown) return { share: { value: 1, why: [] }, behindMm: null };
  const share = thicknessMm === null ? null : unitShare({ ...s, thicknessMm });
  return share === null ? null : { share, behindMm: thicknessMm };
}

interface Dose {
  readonly doseJPerCm2: number;
  readonly passing: Passing;
}

/** The dose that is asked of this surface, with what passes; null when none can be worked out. */
function doseOf(s: Setting, surface: Surface): Dose | null {
  const doseJPerCm2 = s.action.doseJPerCm2?.value;
  if (doseJPerCm2 === undefined) return null;
  // Where nothing is known, the product's own time stands alone.
  const isKnown = s.tables !== null || s.unit.transmittance !== undefined;
  if (!isKnown && s.action.perSurfaceMs !== undefined) return null;
  const passing = passingOf(s, surface);
  return passing === null ? null : { doseJPerCm2, passing };
}

function explainDose(s: Setting, surface: Surface, o: { dose: Dose; seconds: number }) {
  const { irradianceMwPerCm2 } = s.spec.light;
  const { doseJPerCm2, passing } = o.dose;
  const input = { irradianceMwPerCm2, doseJPerCm2, transmittance: passing.share.value };
  const why = explain({
    id: `${explanationId(s, surface)}/dose`,
    value: o.seconds,
    unit: 's',
    formula: 'time-for-the-dose',
    inputs: input,
    source: sourceOf(exposureCalc, input),
    calc: { name: exposureCalc.name, input },
    decidedBy: 'dose',
  });
  return [why, ...passing.share.why];
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
  const found = crownSpots(input);
  const spots = found.ok ? found.value.spots : null;
  s.covers.set(key, spots);
  return spots;
}

/**
 * Positions of the tip on the largest of the teeth. One position where the exposure is not
 * meant to cover a surface (no dose is asked), and where it only reaches a margin from the side.
 */
function coveringOf(s: Setting, surface: Surface): Explained<Covered> | null {
  if (s.tables === null || s.action.doseJPerCm2 === undefined) return null;
  if (!carriesCeramic(s.unit, surface)) return null;
  const { tipDiameterMm } = s.spec.light;
  let best: Explained<Covered> | null = null;
  for (const tooth of s.teeth) {
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
      source: sourceOf(crownSpotsCalc, EASY_COVER),
      calc: { name: crownSpotsCalc.name, input },
      decidedBy: 'tip-size',
    });
    best = { value: { ...rectangle, spots }, why: [why] };
  }
  return best;
}

const TIMES =
  'the longer of the product and the dose, rounded up to the programmes of the lamp; at most 40 J/cm2 at the tip in one exposure, 40 s a place and 60 s a surface';

function explainTime(s: Setting, surface: Surface, o: { time: PlaceTime; seconds: number }) {
  const { time, seconds } = o;
  const productSeconds = (s.action.perSurfaceMs?.value ?? 0) / MS_PER_SECOND;
  return explain({
    id: explanationId(s, surface),
    value: seconds,
    unit: 's',
    formula: 'longest-exposure-time',
    inputs: {
      productSeconds,
      ...(time.doseSeconds === null ? {} : { doseSeconds: time.doseSeconds }),
      ...(time.presses.length < 2 ? {} : { pressSeconds: time.presses }),
    },
    source: TIMES,
    calc: null,
    decidedBy: time.decidedBy,
    ...(time.limit === null ? {} : { limit: time.limit }),
  });
}

/** What the chair says of the time, beside the press. */
function reasonOf(s: Setting, time: PlaceTime, dose: Dose | null): LightReason {
  const productMs = s.action.perSurfaceMs?.value;
  const { limit, doseSeconds } = time;
  const isHeld = limit !== null && limit.code !== 'product-time-over';
  const behindMm = dose?.passing.behindMm ?? null;
  return {
    ...(productMs === undefined ? {} : { productMs }),
    ...(dose === null || doseSeconds === null
      ? {}
      : { doseMs: Math.round(doseSeconds * MS_PER_SECOND), doseJPerCm2: dose.doseJPerCm2 }),
    ...(behindMm === null ? {} : { behindMm }),
    ...(isHeld ? { isHeld } : {}),
  };
}

function surfacePlan(s: Setting, surface: Surface): Explained<SurfacePlan> {
  const dose = doseOf(s, surface);
  const covering = coveringOf(s, surface);
  const positions = covering?.value.spots.length ?? 1;
  const time = placeTime({
    light: s.spec.light,
    productSeconds: (s.action.perSurfaceMs?.value ?? 0) / MS_PER_SECOND,
    dose: dose === null ? null : { doseJPerCm2: dose.doseJPerCm2, share: dose.passing.share.value },
    positions,
  });
  const presses = time.presses.map((each) => Math.round(each * MS_PER_SECOND));
  const setMs = presses.reduce((sum, ms) => sum + ms, 0);
  const summary = explainTime(s, surface, { time, seconds: setMs / MS_PER_SECOND });
  const doseWhy =
    dose === null || time.doseSeconds === null
      ? []
      : explainDose(s, surface, { dose, seconds: time.doseSeconds });
  const plan: SurfacePlan = {
    surface,
    setMs,
    ...(presses.length < 2 ? {} : { presses }),
    positions,
    decidedBy: time.decidedBy,
    reason: reasonOf(s, time, dose),
    ...(covering === null ? {} : { covers: covering.value }),
  };
  return { value: plan, why: [summary, ...doseWhy, ...(covering?.why ?? [])] };
}

/** What every surface of one unit, or of one of its teeth, is to receive in one exposing step. */
export function exposurePlan(o: {
  readonly spec: CaseFile;
  readonly step: Step;
  readonly unit: Unit;
  readonly subject: string;
  readonly teeth: readonly string[];
  readonly tables: PlanTables | null;
  readonly covers: CoverCache;
}): Explained<readonly SurfacePlan[]> {
  const { action } = o.step;
  if (action.kind !== 'expose') return { value: [], why: [] };
  const surfaces = action.surfaces.map((surface) => surfacePlan({ ...o, action }, surface));
  return { value: surfaces.map((s) => s.value), why: surfaces.flatMap((s) => s.why) };
}

/** What a step gives light to, by bare id: each unit, or each tooth, that the step belongs to. */
export function litSubjects(facts: Facts, step: Step) {
  const all = facts.spec.units.flatMap((unit) =>
    step.per === 'tooth'
      ? unit.teeth.map((tooth) => ({ unit, subject: tooth, teeth: [tooth] }))
      : [{ unit, subject: unit.id, teeth: unit.teeth }],
  );
  return all.filter(({ unit, teeth }) => allHold(step.where, facts, { units: [unit], teeth }));
}
