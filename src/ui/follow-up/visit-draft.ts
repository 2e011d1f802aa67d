/**
 * A recall visit as it stands in the form. What was chosen stays when another choice hides it: only what
 * is shown goes into the visit. Pure; days are ISO 8601 calendar dates.
 */

import { personKey } from '../../base/person-key.ts';
import type {
  BondedUnit,
  Finding,
  FollowUp,
  Grade,
  UnitFound,
  Visit,
} from '../../outcomes/follow-up-types.ts';
import { isGone, isSeen } from '../../outcomes/found.ts';
import { FINDINGS, type THENS } from '../../outcomes/vocabulary.ts';

/** The first thing that is said of a unit. */
export type Seen = 'in-place' | 'found' | 'not-seen';

export interface FoundDraft {
  readonly seen: Seen | '';
  /** Counts while `seen` is `found`. */
  readonly findings: readonly Finding[];
}

export type ScaleId = 'fdi-2010' | 'fdi-2023' | 'usphs';

export interface GradeDraft {
  readonly id: string;
  readonly scale: ScaleId;
  /** As typed, where the scale does not say it. */
  readonly year: string;
  readonly item: string;
  readonly grade: string;
}

export interface UnitDraft extends FoundDraft {
  readonly unit: string;
  /** It was gone before; it is noted only where somebody asks for it. */
  readonly isLeftOut: boolean;
  /** By tooth. */
  readonly retainers: Readonly<Record<string, FoundDraft>>;
  readonly done: (typeof THENS)[number] | '';
  readonly bondedAgainIn: string;
  readonly statedDay: string;
  readonly grades: readonly GradeDraft[];
}

export interface VisitDraft {
  /** Null: today. */
  readonly onDay: string | null;
  /** Null: the person last chosen. */
  readonly examiner: string | null;
  readonly units: readonly UnitDraft[];
  readonly note: string;
  /** Of a correction. */
  readonly reason: string;
}

/** What can be found beside "in place" and "not seen". */
export const FOUND: readonly Finding[] = FINDINGS.filter(
  (finding) => finding !== 'in-place' && finding !== 'not-seen',
);

/** FDI: Clin Oral Investig 2010;14:349 and its revision of 2023. USPHS was modified many times: its year is typed. */
export const SCALES: Readonly<Record<ScaleId, { readonly year: number | null }>> = {
  'fdi-2010': { year: 2010 },
  'fdi-2023': { year: 2023 },
  usphs: { year: null },
};

const NOTHING: FoundDraft = { seen: '', findings: [] };

const emptyUnit = (unit: string): UnitDraft => ({
  ...NOTHING,
  unit,
  isLeftOut: false,
  retainers: {},
  done: '',
  bondedAgainIn: '',
  statedDay: '',
  grades: [],
});

/** What was last seen of a unit before a day; null where nothing was. */
export function lastSight(
  followUp: FollowUp,
  unit: string,
): { readonly onDay: string; readonly found: UnitFound } | null {
  const sights = followUp.visits.flatMap(({ visit }) =>
    visit.units
      .filter((found) => found.unit === unit && isSeen(found))
      .map((found) => ({ onDay: visit.onDay, found })),
  );
  return sights.at(-1) ?? null;
}

/** Whether it was gone when it was last seen, or is followed under another case since. */
function wasGone(
  followUp: FollowUp,
  o: { readonly unit: string; readonly isFollowed: (caseId: string) => boolean },
): boolean {
  const last = lastSight(followUp, o.unit)?.found;
  if (last === undefined) return false;
  return isGone(last) || (last.bondedAgainIn !== undefined && o.isFollowed(last.bondedAgainIn));
}

/** A new visit: nothing is said of any unit yet. */
export function newVisit(
  followUp: FollowUp,
  o: { readonly isFollowed: (caseId: string) => boolean },
): VisitDraft {
  const units = followUp.bonded?.units ?? [];
  return {
    onDay: null,
    examiner: null,
    units: units.map(({ unit }) => ({
      ...emptyUnit(unit),
      isLeftOut: wasGone(followUp, { unit, ...o }),
    })),
    note: '',
    reason: '',
  };
}

function foundDraft(findings: readonly Finding[]): FoundDraft {
  const [first] = findings;
  if (first === 'in-place' || first === 'not-seen') return { seen: first, findings: [] };
  return { seen: first === undefined ? '' : 'found', findings };
}

const scaleOf = ({ scale, year }: Grade): ScaleId =>
  scale === 'FDI' ? (year === 2010 ? 'fdi-2010' : 'fdi-2023') : 'usphs';

/** A visit that was noted, to be corrected. */
export function draftOf(visit: Visit, units: readonly BondedUnit[]): VisitDraft {
  return {
    onDay: visit.onDay,
    examiner: visit.examiner,
    units: units.map(({ unit }) => {
      const found = visit.units.find((each) => each.unit === unit);
      if (found === undefined) return { ...emptyUnit(unit), isLeftOut: true };
      const { retainers = [], done = '', bondedAgainIn = '', statedDay = '', grades = [] } = found;
      return {
        ...foundDraft(found.findings),
        unit,
        isLeftOut: false,
        retainers: Object.fromEntries(retainers.map((r) => [r.tooth, foundDraft(r.findings)])),
        done,
        bondedAgainIn,
        statedDay,
        grades: grades.map((grade, at) => ({
          id: String(at),
          scale: scaleOf(grade),
          year: String(grade.year),
          item: grade.item,
          grade: grade.grade,
        })),
      };
    }),
    note: visit.note ?? '',
    reason: '',
  };
}

const findingsOf = ({ seen, findings }: FoundDraft): readonly Finding[] =>
  seen === 'found' ? findings : seen === '' ? [] : [seen];

/** What is said of each retainer, in the order of the teeth. */
function retainersOf(draft: UnitDraft, { teeth, isBridge }: BondedUnit) {
  if (!isBridge || draft.seen !== 'found') return [];
  return teeth.flatMap((tooth) => {
    const own = draft.retainers[tooth] ?? NOTHING;
    return own.seen === '' ? [] : [{ tooth, findings: findingsOf(own) }];
  });
}

export function yearOf({ scale, year }: GradeDraft): number {
  return SCALES[scale].year ?? (/^\d{4}$/.test(year.trim()) ? Number(year) : Number.NaN);
}

/** A line of which nothing was chosen says nothing. */
export const isBlank = ({ item, grade }: GradeDraft): boolean => item.trim() === '' && grade === '';

interface Names {
  readonly fdi: string;
  readonly usphs: string;
}

function gradesOf({ grades }: UnitDraft, names: Names): readonly Grade[] {
  return grades
    .filter((grade) => !isBlank(grade))
    .map((draft) => ({
      scale: draft.scale === 'usphs' ? names.usphs : names.fdi,
      year: yearOf(draft),
      item: draft.item.trim(),
      grade: draft.grade,
    }));
}

/** Whether something stands there about which something may have been done. */
export const hasEvent = (draft: UnitDraft): boolean => draft.seen === 'found';

function unitFound(draft: UnitDraft, o: { readonly unit: BondedUnit; readonly names: Names }) {
  const retainers = retainersOf(draft, o.unit);
  const own = findingsOf(draft);
  // Of a bridge of which only the retainers were told, the whole is what was found of them.
  const ofRetainers = FOUND.filter((each) => retainers.some((r) => r.findings.includes(each)));
  const findings = own.length > 0 ? own : ofRetainers;
  const grades = gradesOf(draft, o.names);
  const isEvent = hasEvent(draft);
  const { done, bondedAgainIn, statedDay } = draft;
  const found: UnitFound = {
    unit: draft.unit,
    findings,
    ...(retainers.length > 0 ? { retainers } : {}),
    ...(isEvent && done !== '' ? { done } : {}),
    ...(isEvent && done === 'bonded-again' && bondedAgainIn !== '' ? { bondedAgainIn } : {}),
    ...(isEvent && statedDay !== '' ? { statedDay } : {}),
    ...(grades.length > 0 ? { grades } : {}),
  };
  return found;
}

/** The visit that the form says. */
export function visitOf(
  draft: VisitDraft,
  o: {
    readonly units: readonly BondedUnit[];
    readonly people: readonly { readonly label: string }[];
    readonly today: string;
    readonly examiner: string;
    readonly names: Names;
  },
): Visit {
  const examiner = (draft.examiner ?? o.examiner).trim();
  const note = draft.note.trim();
  return {
    onDay: draft.onDay ?? o.today,
    examiner,
    isOwnWork: hadBonded(examiner, o.people),
    units: draft.units.flatMap((each) => {
      const unit = o.units.find((bonded) => bonded.unit === each.unit);
      return each.isLeftOut || unit === undefined
        ? []
        : [unitFound(each, { unit, names: o.names })];
    }),
    ...(note === '' ? {} : { note }),
  };
}

/** Whether somebody is one of the people who had bonded it. */
function hadBonded(name: string, people: readonly { readonly label: string }[]): boolean {
  const key = personKey(name);
  return key !== '' && people.some(({ label }) => personKey(label) === key);
}

/** Says the same of every unit that is looked at. */
export const allInPlace = (draft: VisitDraft): VisitDraft => ({
  ...draft,
  units: draft.units.map((unit) => (unit.isLeftOut ? unit : { ...unit, seen: 'in-place' })),
});

/** Nobody came, or nobody looked. */
export const noneSeen = (draft: VisitDraft): VisitDraft => ({
  ...draft,
  units: draft.units.map((unit) => (unit.isLeftOut ? unit : { ...unit, seen: 'not-seen' })),
});

/** Says it of those of which nothing was said. */
export const othersInPlace = (draft: VisitDraft): VisitDraft => ({
  ...draft,
  units: draft.units.map((unit) =>
    unit.isLeftOut || unit.seen !== '' ? unit : { ...unit, seen: 'in-place' },
  ),
});

export const changeUnit = (
  draft: VisitDraft,
  { unit, change }: { readonly unit: string; readonly change: Partial<UnitDraft> },
): VisitDraft => ({
  ...draft,
  units: draft.units.map((each) => (each.unit === unit ? { ...each, ...change } : each)),
});

export const toggled = (findings: readonly Finding[], finding: Finding): readonly Finding[] =>
  findings.includes(finding)
    ? findings.filter((each) => each !== finding)
    : FOUND.filter((each) => each === finding || findings.includes(each));
