/** Recalls by how they stand today, found by a part of the chart reference. Pure. */
import { patientKey } from '../../outcomes/patient-key.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';

export const GROUPS = ['overdue', 'due', 'ahead', 'ended'] as const;

export type GroupName = (typeof GROUPS)[number];

function groupOf({ recalls }: FollowUpRow): GroupName {
  if (recalls.ended !== null) return 'ended';
  const state = recalls.due?.state;
  return state === 'overdue' || state === 'due' ? state : 'ahead';
}

const dayOf = ({ recalls, bondedOn }: FollowUpRow): string =>
  (recalls.due ?? recalls.next)?.dueOn ?? bondedOn;

/** Every group, the longest due first. Lives of deleted cases lead to nobody and are left out. */
export function recallGroups(
  list: readonly FollowUpRow[],
  sought: string,
): Readonly<Record<GroupName, readonly FollowUpRow[]>> {
  const part = sought.trim() === '' ? '' : patientKey(sought);
  const groups: Record<GroupName, FollowUpRow[]> = { overdue: [], due: [], ahead: [], ended: [] };
  for (const row of list) {
    const isFound = row.origin !== 'left' && patientKey(row.patient).includes(part);
    if (isFound) groups[groupOf(row)].push(row);
  }
  for (const name of GROUPS) {
    groups[name].sort((a, b) => (dayOf(a) < dayOf(b) ? -1 : dayOf(a) > dayOf(b) ? 1 : 0));
  }
  return groups;
}
