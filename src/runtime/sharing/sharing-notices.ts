/** What of sharing waits for a person. Pure. */
import { NOT_LET_IN, type RefusedRow, type SharingState } from './sharing-state.ts';

export interface SharingNotice {
  readonly what: 'putOut' | 'notLetIn' | 'conflicts' | 'box' | 'wentBack' | 'refused';
  readonly count: number;
}

/** These are looked at again by themselves, once what they lack has come. */
const MENDS_ITSELF: ReadonlySet<RefusedRow['code']> = new Set(['unknown-tablet', 'no-key']);

/** What can hurt first. */
export function sharingNotices(state: SharingState): readonly SharingNotice[] {
  if (state.standing === 'put-out') return [{ what: 'putOut', count: 1 }];
  const refused = state.refused
    .filter(({ code }) => !MENDS_ITSELF.has(code))
    .reduce((sum, { count }) => sum + count, 0);
  const one = (what: SharingNotice['what'], count: number): readonly SharingNotice[] =>
    count > 0 ? [{ what, count }] : [];
  const isPaired = state.standing === 'paired';
  return [
    ...one('notLetIn', state.problem === NOT_LET_IN ? 1 : 0),
    ...one('conflicts', state.conflicts),
    ...one('box', isPaired && state.box?.isKept === false ? 1 : 0),
    ...one('wentBack', isPaired && state.wentBackAtWallMs !== null ? 1 : 0),
    ...one('refused', isPaired ? refused : 0),
  ];
}
