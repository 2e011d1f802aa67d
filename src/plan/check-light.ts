/**
 * Whether light reaches the cement of a case: how thick a unit may be over a purely light-cured
 * cement, and whether the dose fits under the ceilings of light. Thickness in mm, dose in J/cm2.
 */
import { present, unreachable } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import {
  DOSE_CREDIT_MAX_J_PER_CM2,
  DOSE_MIN_J_PER_CM2,
  POSITION_MAX_SECONDS,
} from '../calc/light-ceilings.ts';
import type { CaseFile, Unit } from '../protocol/case-types.ts';
import { checkCaseFits } from '../protocol/check-materials.ts';
import { caution, type Finding, fault } from '../protocol/finding.ts';
import type { Protocol } from '../protocol/types.ts';
import type { LightLimit } from './explanation.ts';
import { type CoverCache, exposurePlan, litSubjects } from './exposure-plan.ts';
import type { PlanTables } from './plan-tables.ts';

/** A protocol whose cement sets by light alone: some exposure has a dose, or the class says so. */
export function isLightCured({ steps, slots }: Protocol): boolean {
  const hasDose = steps.some(
    ({ action }) => action.kind === 'expose' && action.doseJPerCm2 !== undefined,
  );
  return hasDose || slots.some((s) => /^light-cured\b.*\bcement/.test(s.materialClass));
}

interface ThicknessLimit {
  /** Up to here nothing is said; null where something always is. */
  readonly fineMm: number | null;
  /** Above this a dual-cured cement is to be chosen. */
  readonly mostMm: number;
}

/**
 * Glass ceramics: light- and dual-cured cements were alike at 0.6 to 1.5 mm (Int J Prosthodont
 * 2016;29:384) and up to 1.0 mm (J Appl Oral Sci 2017;25:61). Composite and zirconia follow from
 * their published shares of light. The limits themselves are rules of the trade.
 */
const LIMITS = {
  glass: { fineMm: 1, mostMm: 1.5 },
  opaque: { fineMm: 0.5, mostMm: 1 },
  composite: { fineMm: 1.5, mostMm: 2 },
  zirconia: { fineMm: null, mostMm: 0.5 },
} as const satisfies Record<string, ThicknessLimit>;

const GLASS: readonly string[] = [
  'lithium-disilicate',
  'leucite',
  'feldspathic',
  'polymer-infiltrated',
  'zirconia-reinforced-silicate',
];

/** A class that nobody knows is taken for one that lets little light through. */
function limitOf({ material, opacity }: Unit): ThicknessLimit {
  if (material === 'zirconia') return LIMITS.zirconia;
  if (opacity === 'medium-opacity' || opacity === 'opaque') return LIMITS.opaque;
  if (material === 'resin-composite') return LIMITS.composite;
  return GLASS.includes(material) ? LIMITS.glass : LIMITS.opaque;
}

function thicknessFindings({ units }: CaseFile): readonly Finding[] {
  return units.flatMap((unit, u): Finding[] => {
    const { fineMm, mostMm } = limitOf(unit);
    const { id, material, thicknessMm: mm } = unit;
    const place = `case.units[${u}].thicknessMm`;
    if (mm !== undefined && mm > mostMm) {
      return [fault('light-cured-too-thick', place, { id, material, mm, mostMm })];
    }
    if (fineMm !== null && (mm === undefined || mm <= fineMm)) return [];
    const values = { id, material, mostMm, ...(mm === undefined ? {} : { mm }) };
    return [caution('light-cured-thick', place, values)];
  });
}

const GRAVER: readonly LightLimit['code'][] = [
  'dose-not-reached',
  'no-programme',
  'product-time-over',
  'target-not-reached',
];

const tenth = (value: number): number => Math.round(value * 10) / 10;

function limitFinding(unit: Unit, limit: LightLimit, o: { place: string; title: string }): Finding {
  const { cause, wayOut, reachedJPerCm2 = 0 } = limit;
  const { title, place } = o;
  const told = { id: unit.id, title, cause, wayOut, reachedJPerCm2: tenth(reachedJPerCm2) };
  switch (limit.code) {
    case 'dose-not-reached':
      return fault('light-dose-not-reached', place, { ...told, leastJPerCm2: DOSE_MIN_J_PER_CM2 });
    case 'target-not-reached':
      return caution('light-target-not-reached', place, told);
    case 'product-time-over':
      return caution('light-product-over', place, { id: unit.id, title });
    case 'no-programme':
      return fault('light-no-programme', place, { id: unit.id, title });
    default:
      return unreachable(limit.code);
  }
}

/** The gravest limit of light on each unit, once for each exposing step. */
function ceilingFindings(spec: CaseFile, protocol: Protocol, tables: PlanTables | null) {
  const covers: CoverCache = new Map();
  return protocol.steps.flatMap((step) => {
    if (step.action.kind !== 'expose') return [];
    const limits = litSubjects({ spec, protocol }, step).flatMap((lit) =>
      exposurePlan({ spec, step, ...lit, tables, covers }).why.flatMap(({ limit }) =>
        limit === undefined ? [] : [{ unit: lit.unit, limit }],
      ),
    );
    return spec.units.flatMap((unit, u): Finding[] => {
      const own = limits.filter((each) => each.unit === unit);
      if (own.length === 0) return [];
      const code = present(
        GRAVER.find((each) => own.some(({ limit }) => limit.code === each)),
        'a known limit',
      );
      const { limit } = present(
        own.find((each) => each.limit.code === code),
        code,
      );
      return [limitFinding(unit, limit, { place: `case.units[${u}]`, title: step.title })];
    });
  });
}

/** What is to be said of the light of a case. A unit that is too thick by its class is told once. */
export function lightFindings(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly tables: PlanTables | null;
}): readonly Finding[] {
  const thick = isLightCured(o.protocol) ? thicknessFindings(o.spec) : [];
  const tooThick = new Set(
    thick.filter(({ level }) => level === 'error').map(({ values }) => values['id']),
  );
  const held = ceilingFindings(o.spec, o.protocol, o.tables).filter(
    ({ values }) => values['cause'] !== 'ceramic' || !tooThick.has(values['id']),
  );
  return [...thick, ...held];
}

/** Times and doses of a protocol that are past a ceiling of light: for the lead to judge. */
export function productLightFindings({ steps }: Protocol): readonly Finding[] {
  return steps.flatMap(({ action }, i): Finding[] => {
    if (action.kind !== 'expose') return [];
    const place = `protocol.steps[${i}].action`;
    const seconds = (action.perSurfaceMs?.value ?? 0) / MS_PER_SECOND;
    const dose = action.doseJPerCm2?.value ?? 0;
    const found: Finding[] = [];
    if (seconds > POSITION_MAX_SECONDS) {
      const values = { seconds, mostSeconds: POSITION_MAX_SECONDS };
      found.push(caution('product-light-over', `${place}.perSurfaceMs.value`, values));
    }
    if (dose > DOSE_CREDIT_MAX_J_PER_CM2) {
      const values = { dose, most: DOSE_CREDIT_MAX_J_PER_CM2 };
      found.push(caution('dose-beyond-credit', `${place}.doseJPerCm2.value`, values));
    }
    return found;
  });
}

/** What set-up, the plan and the check of a case file find alike. */
export function checkCase(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly tables: PlanTables | null;
}): readonly Finding[] {
  return [...checkCaseFits(o.spec, o.protocol), ...lightFindings(o)];
}
