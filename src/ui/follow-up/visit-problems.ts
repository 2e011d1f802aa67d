/** What is wrong with a visit in the form, as sentences by place: `visit.onDay`, `visit.units[0].statedDay`. */
import type { Problem } from '../../base/problem.ts';
import { lastInPlace, type VisitFault } from '../../outcomes/check-visit.ts';
import type { FollowUp, UnitFound, Visit } from '../../outcomes/follow-up-types.ts';
import { recallVisitWords } from '../../words/follow-up-words.ts';
import { isBlank, type VisitDraft, yearOf } from './visit-draft.ts';

interface About {
  readonly visit: Visit;
  readonly followUp: FollowUp;
  readonly replaces?: string | undefined;
  readonly dayOf: (isoDay: string) => string;
}

/** The unit that a place is about. */
const foundAt = ({ place }: Problem, visit: Visit): UnitFound | undefined =>
  visit.units[Number(/\[(\d+)\]/.exec(place)?.[1])];

function statedTooEarly(fault: Problem, about: About): string {
  const { visit, followUp, replaces, dayOf } = about;
  const found = foundAt(fault, visit);
  const stated = dayOf(found?.statedDay ?? '');
  const others = followUp.visits.filter(({ id }) => id !== replaces).map((kept) => kept.visit);
  const seen = lastInPlace({ visit, others }, found?.unit ?? '');
  return seen === null
    ? recallVisitWords.statedBeforeBonding({
        stated,
        bonded: dayOf(followUp.bonded?.bondedOn ?? ''),
      })
    : recallVisitWords.statedTooEarly({ stated, seen: dayOf(seen) });
}

function statedTooLate(fault: Problem, { visit, dayOf }: About): string {
  const stated = dayOf(foundAt(fault, visit)?.statedDay ?? '');
  return recallVisitWords.statedTooLate({ stated, visit: dayOf(visit.onDay) });
}

function sentence(problem: Problem, about: About): string | undefined {
  const code = problem.code as VisitFault;
  switch (code) {
    case 'before-bonding':
      return recallVisitWords.beforeBonding(about.dayOf(about.followUp.bonded?.bondedOn ?? ''));
    case 'stated-day-before-last-seen':
      return statedTooEarly(problem, about);
    case 'stated-day-after-visit':
      return statedTooLate(problem, about);
    case 'seen-after-stated-day':
      return recallVisitWords.seenAfterStated;
    default:
      return Object.entries<string>(recallVisitWords.faults).find(([known]) => known === code)?.[1];
  }
}

/** The first sentence of each place. */
export function visitProblems(
  faults: readonly Problem[],
  about: About,
): ReadonlyMap<string, string> {
  const told = new Map<string, string>();
  for (const fault of faults) {
    const words = sentence(fault, about);
    if (words !== undefined && !told.has(fault.place)) told.set(fault.place, words);
  }
  return told;
}

/** Of grades, which are kept as entered, only what would be lost is asked for. */
export function gradeProblems(draft: VisitDraft): ReadonlyMap<string, string> {
  const told = new Map<string, string>();
  for (const { unit, grades, isLeftOut } of draft.units) {
    for (const grade of isLeftOut ? [] : grades.filter((each) => !isBlank(each))) {
      const place = `${unit} ${grade.id}`;
      if (grade.grade === '') told.set(`${place} grade`, recallVisitWords.gradeMissing);
      if (Number.isNaN(yearOf(grade))) told.set(`${place} year`, recallVisitWords.yearMissing);
    }
  }
  return told;
}
