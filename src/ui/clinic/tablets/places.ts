/** Addresses of the pages of the tablets. */
export const TABLETS = '/clinic/tablets';
export const CONFLICTS = '/clinic/tablets/conflicts';
export const BOX_PAPER = '/clinic/tablets/box';
