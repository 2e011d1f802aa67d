/** Where a bonding is known from: a case of the app, from before the app, or from a case that was deleted. */
export type Origin = 'case' | 'earlier' | 'left';

/** @param caseId the id under which it is followed. */
export const originOf = (caseId: string): Origin =>
  caseId.startsWith('earlier-') ? 'earlier' : caseId.startsWith('left-') ? 'left' : 'case';
