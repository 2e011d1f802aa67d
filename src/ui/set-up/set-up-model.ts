/**
 * The draft of a case while it is typed: everything is text until it is saved, so that nothing a
 * person typed is lost. `caseOf` makes the file that the parser judges; `problemsOf` brings its
 * problems back to the fields they belong to. Pure.
 */
import { type Problem, problemLine } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import type { CaseFile, Notation } from '../../protocol/case-types.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import { CASE_RANGES, type CaseRange } from '../../protocol/schema-case.ts';
import type { Role } from '../../protocol/types.ts';
import type { ClinicPerson } from '../../runtime/library/people-facts.ts';
import type { Times } from '../../words/date-words.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { type DraftTeeth, teethDraft, teethFile } from './set-up-teeth.ts';
import { numberOf, text, trimmed, without } from './set-up-text.ts';
import { type SeatedUnits, seatingOrder, unitDraft, unitFile } from './set-up-units.ts';

interface DraftPerson {
  readonly id: string;
  readonly label: string;
  readonly role: Role;
  readonly notation: Notation | undefined;
}

export interface CaseDraft extends SeatedUnits {
  readonly teeth: DraftTeeth;
  /** Options taken, by the choice of the protocol. */
  readonly choices: Readonly<Record<string, string>>;
  /** The case as it was when it was opened here; undefined for a new one. */
  readonly base: CaseFile | undefined;
  readonly id: string;
  readonly chartRef: string;
  readonly title: string;
  readonly notation: Notation;
  readonly protocol: string;
  readonly date: string;
  readonly time: string;
  readonly people: readonly DraftPerson[];
  readonly temperature: string;
  readonly lux: string;
  readonly light: string;
  readonly irradiance: string;
  readonly baseline: string;
  readonly tip: string;
  readonly readOn: string;
  /** Times that the lamp can be set to, in s, as typed. */
  readonly programmes: string;
  readonly allergies: string;
  /** Agent and technique, both or neither. */
  readonly agent: string;
  readonly technique: string;
  readonly note: string;
}

/** What a new case begins with; taken from the case that was prepared last where there is one. */
export function newDraft(o: {
  readonly id: string;
  readonly notation: Notation;
  readonly protocol: string;
  readonly like: CaseFile | undefined;
}): CaseDraft {
  const { like } = o;
  // The lamp is the clinic's; what it gave on another day is no reading of today's.
  const { label = '', tipDiameterMm, programmesS } = like?.light ?? {};
  const tip = text(tipDiameterMm);
  const light = { ...EMPTY_LIGHT, light: label, tip, programmes: listText(programmesS) };
  return {
    base: undefined,
    id: o.id,
    chartRef: '',
    title: '',
    notation: o.notation,
    protocol: o.protocol,
    date: '',
    time: '',
    units: [],
    isOwnOrder: false,
    teeth: {},
    choices: {},
    people: like?.people.map(personDraft) ?? [
      { id: 'person-1', label: '', role: 'dentist', notation: undefined },
      { id: 'person-2', label: '', role: 'assistant', notation: undefined },
    ],
    temperature: text(like?.room.temperatureC),
    lux: text(like?.room.lux),
    ...light,
    allergies: '',
    agent: '',
    technique: '',
    note: '',
  };
}

const EMPTY_LIGHT = {
  light: '',
  irradiance: '',
  baseline: '',
  tip: '',
  readOn: '',
  programmes: '',
};

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
    programmes: listText(light.programmesS),
  };
}

/** The draft of a case that is prepared already. */
export function draftOf(spec: CaseFile, times: Times): CaseDraft {
  const units = spec.units.map(unitDraft);
  return {
    base: spec,
    id: spec.id,
    chartRef: spec.chartRef,
    title: spec.title,
    notation: spec.notation,
    protocol: spec.protocol,
    ...times.typed(spec.scheduledFor),
    units,
    teeth: teethDraft(spec),
    choices: spec.choices ?? {},
    isOwnOrder: seatingOrder(units).some((u, i) => u.id !== units[i]?.id),
    people: spec.people.map(personDraft),
    temperature: text(spec.room.temperatureC),
    lux: text(spec.room.lux),
    ...lightDraft(spec.light),
    allergies: spec.allergies ?? '',
    agent: spec.anaesthesia?.agent ?? '',
    technique: spec.anaesthesia?.technique ?? '',
    note: spec.note ?? '',
  };
}

export function changePerson(
  draft: CaseDraft,
  o: { readonly index: number; readonly change: Partial<DraftPerson> },
): CaseDraft {
  const people = draft.people.map((p, i) => (i === o.index ? { ...p, ...o.change } : p));
  return { ...draft, people };
}

export function addPerson(draft: CaseDraft): CaseDraft {
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

/** Somebody of the clinic's list, where nobody of that role is named yet, else behind those that are. */
export function namePerson(draft: CaseDraft, { name, role: listed }: ClinicPerson): CaseDraft {
  // A lead who is there does the work of a dentist.
  const role: Role = listed === 'assistant' ? 'assistant' : 'dentist';
  const isFree = (p: DraftPerson): boolean => p.label.trim() === '';
  const own = draft.people.findIndex((p) => isFree(p) && p.role === role);
  const at = own === -1 ? draft.people.findIndex(isFree) : own;
  const roomy = at === -1 ? addPerson(draft) : draft;
  const index = at === -1 ? roomy.people.length - 1 : at;
  return changePerson(roomy, { index, change: { label: name, role } });
}

/** Who did the paces that came with the case: other people, or another protocol, make them void. */
function whoseRecords(o: Pick<CaseDraft | CaseFile, 'protocol' | 'people'>): string {
  return [o.protocol, ...o.people.map((p) => `${p.role} ${p.label.trim()}`)].join('\n');
}

/** What was chosen to be taken together holds for these units in this protocol only. */
function whoseGroups(o: Pick<CaseDraft | CaseFile, 'protocol' | 'units'>): string {
  return [o.protocol, ...o.units.map((u) => u.id).sort()].join('\n');
}

/** The date and time as they stand in the file when nobody changed them, else in the clinic's zone. */
function scheduledFor({ date, time, base }: CaseDraft, times: Times): string | undefined {
  const was = times.typed(base?.scheduledFor);
  if (was.date === date && was.time === time) return base?.scheduledFor;
  return times.isoOf({ date, time });
}

/** The case file of a draft, unjudged. What the form does not show stays as it was. */
function caseOf(draft: CaseDraft, times: Times): unknown {
  const { base } = draft;
  const isSamePace = base !== undefined && whoseRecords(base) === whoseRecords(draft);
  const areSameUnits = base !== undefined && whoseGroups(base) === whoseGroups(draft);
  return without({
    ...base,
    format: 'lutewatch-case',
    formatVersion: 1,
    id: draft.id,
    chartRef: trimmed(draft.chartRef, base?.chartRef) ?? '',
    title: trimmed(draft.title, base?.title) ?? '',
    notation: draft.notation,
    protocol: draft.protocol,
    units: draft.units.map((u) =>
      unitFile(
        u,
        base?.units.find((was) => was.id === u.id),
      ),
    ),
    teeth: teethFile(
      draft.teeth,
      draft.units.flatMap((u) => u.teeth),
    ),
    choices: Object.keys(draft.choices).length === 0 ? undefined : draft.choices,
    people: draft.people.map((p) => {
      const was = base?.people.find((each) => each.id === p.id);
      const label = trimmed(p.label, was?.label) ?? '';
      return without({ ...was, id: p.id, label, role: p.role, notation: p.notation });
    }),
    room: without({
      ...base?.room,
      temperatureC: numberOf(draft.temperature),
      lux: numberOf(draft.lux),
    }),
    light: without({
      ...base?.light,
      label: trimmed(draft.light, base?.light.label) ?? '',
      irradianceMwPerCm2: numberOf(draft.irradiance),
      tipDiameterMm: numberOf(draft.tip),
      baselineMwPerCm2: numberOf(draft.baseline),
      readOn: trimmed(draft.readOn, base?.light.readOn),
      programmesS: listOf(draft.programmes),
    }),
    scheduledFor: scheduledFor(draft, times),
    allergies: trimmed(draft.allergies, base?.allergies),
    anaesthesia:
      draft.agent === '' || draft.technique === ''
        ? undefined
        : { agent: draft.agent, technique: draft.technique },
    note: trimmed(draft.note, base?.note),
    paces: isSamePace ? base?.paces : undefined,
    changeOvers: isSamePace ? base?.changeOvers : undefined,
    groups: areSameUnits ? base?.groups : undefined,
  });
}

export function judge(draft: CaseDraft, times: Times): Result<CaseFile, readonly Problem[]> {
  return parseCase(caseOf(draft, times));
}

const isRange = (key: string): key is CaseRange => Object.hasOwn(CASE_RANGES, key);

/** Words of one problem: a missing value is asked for, a wrong one is told what it may be. */
function wordsOf(p: Problem): string {
  if (p.place === 'case.units') return setUpWords.noTeeth;
  if (p.place === 'case.people') return setUpWords.noPeople;
  if (p.place === 'case.scheduledFor') return setUpWords.wholeMoment;
  if (p.came === 'nothing' || p.came === '""') return setUpWords.required;
  const key = p.place.slice(p.place.lastIndexOf('.') + 1);
  if (key.startsWith('programmesS')) return setUpWords.programmesAs;
  if (key === 'readOn') return setUpWords.wholeDate;
  return isRange(key) ? setUpWords.ranges[key](CASE_RANGES[key]) : setUpWords.tooLong;
}

/**
 * Problems by the place of their field, such as `case.light.tipDiameterMm` or
 * `case.units[0].thicknessMm`. What belongs to no field keeps its whole line under `case`.
 */
export function problemsOf(problems: readonly Problem[]): ReadonlyMap<string, string> {
  const known = new Map<string, string>();
  for (const p of problems) {
    const isField = FIELD_PLACES.some((pattern) => pattern.test(p.place));
    // One field holds all the times of a lamp.
    const place = isField ? p.place.replace(/(programmesS)\[\d+\]$/, '$1') : 'case';
    if (!known.has(place)) known.set(place, isField ? wordsOf(p) : problemLine(p));
  }
  return known;
}

const FIELD_PLACES: readonly RegExp[] = [
  /^case\.(chartRef|title|protocol|scheduledFor|allergies|note|units|people)$/,
  /^case\.units\[\d+\]\.(restoration|material|thicknessMm|shade|opacity|conditioned)$/,
  /^case\.units\[\d+\]\.transmittance\.(share|atThicknessMm|basis)$/,
  /^case\.people\[\d+\]\.label$/,
  /^case\.room\.(temperatureC|lux)$/,
  /^case\.light\.(label|irradianceMwPerCm2|tipDiameterMm|baselineMwPerCm2|readOn|programmesS(?:\[\d+\])?)$/,
];

/** "3, 5, 10": the times of a lamp as they are typed. */
const listText = (times: readonly number[] | undefined): string => (times ?? []).join(', ');

/** The times as numbers; the text as it came where one of them is none, for the parser to refuse. */
function listOf(typed: string): unknown {
  const parts = typed.split(/[\s,;]+/).filter((part) => part !== '');
  if (parts.length === 0) return undefined;
  const times = parts.map(Number);
  return times.every(Number.isFinite) ? times : typed;
}

/** Output as a share of the light's own baseline; null until both are numbers. */
export function baselineShare(draft: Pick<CaseDraft, 'irradiance' | 'baseline'>): number | null {
  const now = numberOf(draft.irradiance);
  const baseline = numberOf(draft.baseline);
  if (typeof now !== 'number' || typeof baseline !== 'number' || baseline <= 0) return null;
  return now / baseline;
}
