/**
 * What is due before the cases of today and tomorrow, and what is late: refrigerated materials by
 * their latest moments, the appointment, the hold of a finishing visit. Pure; times in ms.
 */
import { unreachable } from '../../base/assert.ts';
import { MS_PER_HOUR } from '../../base/units.ts';
import { holdOf } from '../../engine/follow-on.ts';
import type { CaseInstant, CaseState, Elapsed } from '../../engine/types.ts';
import { latestMaterials } from '../../plan/latest-starts.ts';
import { isSameMaterial, type MaterialOut, materialsOut } from '../../plan/materials-out.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import { instantOf, type Times } from '../../words/date-words.ts';

export type DueLine =
  | { readonly kind: 'out-by'; readonly materials: readonly string[]; readonly atMs: number }
  | {
      readonly kind: 'warming';
      readonly material: string;
      readonly elapsed: Elapsed;
      readonly floorMs: number;
    }
  | { readonly kind: 'hold'; readonly atMs: number; readonly floorMs: number }
  | { readonly kind: 'appointment'; readonly atMs: number };

interface DueCase {
  readonly id: string;
  readonly title: string;
  readonly chartRef: string;
  readonly lines: readonly DueLine[];
  /** How late the latest of its lines is; 0 or less when nothing is. */
  readonly lateMs: number;
  /** The soonest instant of its lines. */
  readonly soonestMs: number;
}

/** A case that was begun on a patient, as of now. */
export interface Begun {
  readonly chartRef: string;
  readonly state: CaseState;
  readonly now: CaseInstant;
}

/** A case counts as begun for an appointment when it was opened within this time before it. */
export const BEGUN_BEFORE_MS = 72 * MS_PER_HOUR;
/** Beyond this an appointment that was not kept is history, not something that is late. */
const LATE_MAX_MS = 12 * MS_PER_HOUR;

interface DueInput {
  readonly prepared: readonly CaseFile[];
  readonly protocols: readonly Protocol[];
  readonly begun: readonly Begun[];
  readonly nowMs: number;
  readonly times: Times;
}

/** Prepared cases that something can be due for, as of now. */
export function nearCases(o: Pick<DueInput, 'prepared' | 'nowMs' | 'times'>): readonly CaseFile[] {
  return o.prepared.filter((spec) => {
    const atMs = instantOf(spec.scheduledFor);
    if (atMs === null || o.nowMs - atMs > LATE_MAX_MS) return false;
    return atMs < o.nowMs || ['today', 'tomorrow'].includes(o.times.dayKind(atMs, o));
  });
}

function materialLines(spec: CaseFile, o: DueInput, out: readonly MaterialOut[]): DueLine[] {
  const protocol = o.protocols.find((p) => p.id === spec.protocol);
  if (!protocol) return [];
  return latestMaterials(spec, protocol).map(({ slot, latestWallMs }): DueLine => {
    const { label } = slot;
    const known = out.find(
      (m) => isSameMaterial(m.slot, label) || isSameMaterial(slot, m.slot.label),
    );
    if (!known) return { kind: 'out-by', materials: [label], atMs: latestWallMs };
    return { kind: 'warming', material: label, elapsed: known.elapsed, floorMs: known.warmUpMs };
  });
}

function holdLines(spec: CaseFile, o: DueInput): DueLine[] {
  const protocol = o.protocols.find((p) => p.id === spec.protocol);
  const hold = protocol === undefined ? null : holdOf(spec, protocol);
  if (hold === null || hold.endsMs <= o.nowMs) return [];
  return [{ kind: 'hold', atMs: hold.endsMs, floorMs: hold.floorMs }];
}

/** The materials that a line is about. */
export function materialsOf(line: DueLine): readonly string[] {
  switch (line.kind) {
    case 'out-by':
      return line.materials;
    case 'warming':
      return [line.material];
    case 'hold':
    case 'appointment':
      return [];
    default:
      return unreachable(line);
  }
}

/** Documents of one patient's appointment say the same materials: each is told once. */
function together(lines: readonly DueLine[], label: (id: string) => readonly string[]): DueLine[] {
  const told = new Set<string>();
  return lines.filter((line) => {
    const materials = materialsOf(line);
    if (materials.length === 0) return true;
    if (materials.every((each) => told.has(each))) return false;
    for (const each of materials.flatMap(label)) told.add(each);
    return true;
  });
}

/** Until so long before its moment a material needs no line of its own. */
const FAR_MS = 2 * MS_PER_HOUR;

/** Materials of one moment that is far away stand in one line. */
function farTogether(lines: readonly DueLine[], nowMs: number): DueLine[] {
  const told: DueLine[] = [];
  for (const line of lines) {
    const last = told.at(-1);
    const isFar = line.kind === 'out-by' && line.atMs - nowMs > FAR_MS;
    if (isFar && last?.kind === 'out-by' && last.atMs === line.atMs) {
      told[told.length - 1] = { ...last, materials: [...last.materials, ...line.materials] };
    } else told.push(line);
  }
  return told;
}

function lateBy(line: DueLine, nowMs: number): number {
  if (line.kind === 'warming' || line.kind === 'hold') return 0;
  return Math.max(0, nowMs - line.atMs);
}

/** All that is due, what is latest first, then what comes soonest. */
export function dueModel(o: DueInput): readonly DueCase[] {
  const groups = new Map<string, CaseFile[]>();
  for (const spec of nearCases(o)) {
    const key = `${spec.chartRef} ${instantOf(spec.scheduledFor)}`;
    groups.set(key, [...(groups.get(key) ?? []), spec]);
  }
  const cases = [...groups.values()].flatMap((group) => dueCase(group, o));
  return cases.toSorted((a, b) => b.lateMs - a.lateMs || a.soonestMs - b.soonestMs);
}

/** Whether the appointment itself was begun: light is given in it, or it follows one with light. */
function isHeld(group: readonly CaseFile[], o: DueInput): boolean {
  return o.begun.some(({ state: { opened } }) => {
    const isSeating = opened.protocol.steps.some((s) => s.action.kind === 'expose');
    const isVisit = isSeating || opened.spec.follows !== undefined;
    return isVisit && group.some((spec) => spec.id === opened.spec.id);
  });
}

function dueCase(group: readonly CaseFile[], o: DueInput): readonly DueCase[] {
  const [first] = group;
  const atMs = instantOf(first?.scheduledFor);
  if (!first || atMs === null || isHeld(group, o)) return [];
  const out = o.begun
    .filter((b) => b.chartRef === first.chartRef)
    .flatMap((b) => materialsOut(b.state, b.now));
  // The document with most bottles speaks; a preparation that names one for several is heard last.
  const materials = group
    .map((spec) => materialLines(spec, o, out))
    .toSorted((a, b) => b.length - a.length)
    .flat();
  const slots = o.protocols.flatMap((p) => p.slots);
  const alsoCalled = (label: string) => [
    label,
    ...slots.filter((s) => s.standsFor?.includes(label)).map((s) => s.label),
  ];
  const lines: DueLine[] = [
    ...farTogether(together(materials, alsoCalled), o.nowMs),
    ...group.flatMap((spec) => holdLines(spec, o)),
    { kind: 'appointment', atMs },
  ];
  const { title, chartRef, id } = first;
  const instants = lines.flatMap((l) => ('atMs' in l ? [l.atMs] : []));
  const lateMs = Math.max(...lines.map((line) => lateBy(line, o.nowMs)));
  return [{ id, title, chartRef, lines, lateMs, soonestMs: Math.min(...instants) }];
}
