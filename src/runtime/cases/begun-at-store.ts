/**
 * Case files of which the case lies on the clinic's store alone, by id: what was begun there is not begun again here.
 */
export const BEGUN_AT_STORE = 'begun-at-store';
