/** Who looks at a recall, before anybody is asked: the person last chosen, else somebody of the clinic, else of the case. */
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { useClinicPeople } from '../shared/PeopleChoices.tsx';

let chosen = '';

/** Somebody noted a visit in this window. */
export function chooseExaminer(name: string): void {
  chosen = name;
}

/** Who looked at the visit that was noted last. */
function lastOf(list: readonly FollowUpRow[]): string {
  let last = { atWallMs: Number.NEGATIVE_INFINITY, examiner: '' };
  for (const { followUp } of list) {
    for (const { atWallMs, visit } of followUp.visits) {
      if (atWallMs > last.atWallMs) last = { atWallMs, examiner: visit.examiner };
    }
  }
  return last.examiner;
}

/** The person who is named for a case until somebody changes it; empty where nobody is known. */
export function useExaminer(list: readonly FollowUpRow[]): (row: FollowUpRow) => string {
  const people = useClinicPeople();
  const dentist = people.find(({ role }) => role === 'dentist') ?? people[0];
  return (row) => {
    const ofCase = row.followUp.bonded?.people ?? [];
    const bonder = ofCase.find(({ role }) => role === 'dentist') ?? ofCase[0];
    return chosen || lastOf(list) || (dentist?.name ?? bonder?.label ?? '');
  };
}
