/**
 * The draft of a case while it is typed: everything is text until it is kept, so that nothing a
 * person typed is lost. `caseOf` makes the file that the parser judges; `problemsOf` brings its
 * problems back to the fields they belong to. Pure.
 */
import { type Problem, problemLine } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import type { CaseFile, Notation, Role } from '../../protocol/types.ts';
import { toothPlace } from '../parts/tooth-order.ts';
import { dateAndTime, isoOf } from '../words/date-words.ts';
import { setUpWords } from '../words/set-up-words.ts';

export interface DraftUnit {
  readonly id: string;
  readonly teeth: readonly string[];
  readonly restoration: string;
  readonly material: string;
  readonly thickness: string;
  readonly shade: string;
}

export interface DraftPerson {
  readonly id: string;
  readonly label: string;
  readonly role: Role;
  readonly notation: Notation | undefined;
}

export interface Draft {
  readonly id: string;
  readonly chartRef: string;
  readonly title: string;
  readonly notation: Notation;
  readonly protocol: string;
  readonly date: string;
  readonly time: string;
  readonly units: readonly DraftUnit[];
  /** People moved a unit themselves: new teeth then go to the end. */
  readonly isOwnOrder: boolean;
  readonly people: readonly DraftPerson[];
  readonly temperature: string;
  readonly lux: string;
  readonly light: string;
  readonly irradiance: string;
  readonly baseline: string;
  readonly tip: string;
  readonly readOn: string;
  readonly allergies: string;
  readonly note: string;
}

/** What a new case begins with; taken from the case that was prepared last where there is one. */
export function newDraft(o: {
  readonly id: string;
  readonly notation: Notation;
  readonly protocol: string;
  readonly like: CaseFile | undefined;
}): Draft {
  const { like } = o;
  const light = like ? lightDraft(like.light) : EMPTY_LIGHT;
  return {
    id: o.id,
    chartRef: '',
    title: '',
    notation: o.notation,
    protocol: o.protocol,
    date: '',
    time: '',
    units: [],
    isOwnOrder: false,
    people: like?.people.map(personDraft) ?? [
      { id: 'person-1', label: '', role: 'dentist', notation: undefined },
      { id: 'person-2', label: '', role: 'assistant', notation: undefined },
    ],
    temperature: text(like?.room.temperatureC),
    lux: text(like?.room.lux),
    ...light,
    allergies: '',
    note: '',
  };
}

const EMPTY_LIGHT = { light: '', irradiance: '', baseline: '', tip: '', readOn: '' };

const text = (value: number | undefined): string => (value === undefined ? '' : String(value));

const personDraft = (p: CaseFile['people'][number]): DraftPerson => ({
  id: p.id,
  label: p.label,
  role: p.role,
  notation: p.notation,
});

function lightDraft(light: CaseFile['light']) {
  return {
    light: light.label,
    irradiance: text(light.irradianceMwPerCm2),
    baseline: text(light.baselineMwPerCm2),
    tip: text(light.tipDiameterMm),
    readOn: light.readOn ?? '',
  };
}

/** The draft of a case that is prepared already. */
export function draftOf(spec: CaseFile): Draft {
  const units = spec.units.map((u) => ({
    id: u.id,
    teeth: u.teeth,
    restoration: u.restoration,
    material: u.material,
    thickness: text(u.thicknessMm),
    shade: u.shade ?? '',
  }));
  return {
    id: spec.id,
    chartRef: spec.chartRef,
    title: spec.title,
    notation: spec.notation,
    protocol: spec.protocol,
    ...dateAndTime(spec.scheduledFor),
    units,
    isOwnOrder: seatingOrder(units).some((u, i) => u.id !== units[i]?.id),
    people: spec.people.map(personDraft),
    temperature: text(spec.room.temperatureC),
    lux: text(spec.room.lux),
    ...lightDraft(spec.light),
    allergies: spec.allergies ?? '',
    note: spec.note ?? '',
  };
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

/** Takes a tooth in or out. A new unit is like the last one. */
export function toggleTooth(draft: Draft, tooth: string): Draft {
  const has = draft.units.some((u) => u.teeth.includes(tooth));
  if (has) {
    const units = draft.units
      .map((u) => ({ ...u, teeth: u.teeth.filter((t) => t !== tooth) }))
      .filter((u) => u.teeth.length > 0);
    return { ...draft, units };
  }
  const last = draft.units.at(-1);
  const unit: DraftUnit = {
    restoration: 'veneer',
    material: 'lithium-disilicate',
    thickness: '',
    shade: '',
    ...last,
    id: tooth,
    teeth: [tooth],
  };
  const units = [...draft.units, unit];
  return { ...draft, units: draft.isOwnOrder ? units : seatingOrder(units) };
}

export function moveUnit(draft: Draft, o: { readonly index: number; readonly by: -1 | 1 }): Draft {
  const to = o.index + o.by;
  const moved = draft.units[o.index];
  if (!moved || to < 0 || to >= draft.units.length) return draft;
  const rest = draft.units.filter((_, i) => i !== o.index);
  const units = [...rest.slice(0, to), moved, ...rest.slice(to)];
  return { ...draft, units, isOwnOrder: true };
}

export function changeUnit(
  draft: Draft,
  o: { readonly index: number; readonly change: Partial<DraftUnit> },
): Draft {
  const units = draft.units.map((u, i) => (i === o.index ? { ...u, ...o.change } : u));
  return { ...draft, units };
}

/** Restoration, material, thickness and shade of the first unit for all of them. */
export function allLikeFirst(draft: Draft): Draft {
  const first = draft.units[0];
  if (!first) return draft;
  const { restoration, material, thickness, shade } = first;
  const units = draft.units.map((u) => ({ ...u, restoration, material, thickness, shade }));
  return { ...draft, units };
}

export function changePerson(
  draft: Draft,
  o: { readonly index: number; readonly change: Partial<DraftPerson> },
): Draft {
  const people = draft.people.map((p, i) => (i === o.index ? { ...p, ...o.change } : p));
  return { ...draft, people };
}

export function addPerson(draft: Draft): Draft {
  const taken = new Set(draft.people.map((p) => p.id));
  let n = draft.people.length + 1;
  while (taken.has(`person-${n}`)) n += 1;
  const person: DraftPerson = {
    id: `person-${n}`,
    label: '',
    role: 'assistant',
    notation: undefined,
  };
  return { ...draft, people: [...draft.people, person] };
}

/** A number as typed, with a comma or a point; the text itself when it is none. */
function numberOf(typed: string): number | string | undefined {
  const trimmed = typed.trim();
  if (trimmed === '') return undefined;
  const value = Number(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? value : trimmed;
}

const maybeText = (typed: string): string | undefined =>
  typed.trim() === '' ? undefined : typed.trim();

/** Leaves out what is not there: the file format knows no empty fields. */
function without(fields: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
}

/** The case file of a draft, unjudged. */
export function caseOf(draft: Draft): unknown {
  const isTimed = draft.date !== '' || draft.time !== '';
  return without({
    format: 'lutewatch-case',
    formatVersion: 1,
    id: draft.id,
    chartRef: draft.chartRef.trim(),
    title: draft.title.trim(),
    notation: draft.notation,
    protocol: draft.protocol,
    units: draft.units.map((u) =>
      without({
        id: u.id,
        teeth: u.teeth,
        restoration: u.restoration,
        material: u.material,
        thicknessMm: numberOf(u.thickness),
        shade: maybeText(u.shade),
      }),
    ),
    people: draft.people.map((p) =>
      without({ id: p.id, label: p.label.trim(), role: p.role, notation: p.notation }),
    ),
    room: without({ temperatureC: numberOf(draft.temperature), lux: numberOf(draft.lux) }),
    light: without({
      label: draft.light.trim(),
      irradianceMwPerCm2: numberOf(draft.irradiance),
      tipDiameterMm: numberOf(draft.tip),
      baselineMwPerCm2: numberOf(draft.baseline),
      readOn: maybeText(draft.readOn),
    }),
    scheduledFor: isTimed ? isoOf(draft) : undefined,
    allergies: maybeText(draft.allergies),
    note: maybeText(draft.note),
  });
}

export function judge(draft: Draft): Result<CaseFile, readonly Problem[]> {
  return parseCase(caseOf(draft));
}

/** Words of one problem: a missing value is asked for, a wrong one says what was expected. */
function wordsOf(p: Problem): string {
  if (p.place === 'case.units') return setUpWords.noTeeth;
  if (p.place === 'case.people') return setUpWords.noPeople;
  if (p.came === 'nothing' || p.came === '""') return setUpWords.required;
  return setUpWords.range(p);
}

/**
 * Problems by the place of their field, such as `case.light.tipDiameterMm` or
 * `case.units[0].thicknessMm`. What belongs to no field keeps its whole line under `case`.
 */
export function problemsOf(problems: readonly Problem[]): ReadonlyMap<string, string> {
  const known = new Map<string, string>();
  for (const p of problems) {
    const isField = FIELD_PLACES.some((pattern) => pattern.test(p.place));
    const place = isField ? p.place : 'case';
    if (!known.has(place)) known.set(place, isField ? wordsOf(p) : problemLine(p));
  }
  return known;
}

const FIELD_PLACES: readonly RegExp[] = [
  /^case\.(chartRef|title|protocol|scheduledFor|allergies|note|units|people)$/,
  /^case\.units\[\d+\]\.(restoration|material|thicknessMm|shade)$/,
  /^case\.people\[\d+\]\.label$/,
  /^case\.room\.(temperatureC|lux)$/,
  /^case\.light\.(label|irradianceMwPerCm2|tipDiameterMm|baselineMwPerCm2|readOn)$/,
];

/** Output as a share of the light's own baseline; null until both are numbers. */
export function baselineShare(draft: Pick<Draft, 'irradiance' | 'baseline'>): number | null {
  const now = numberOf(draft.irradiance);
  const baseline = numberOf(draft.baseline);
  if (typeof now !== 'number' || typeof baseline !== 'number' || baseline <= 0) return null;
  return now / baseline;
}
