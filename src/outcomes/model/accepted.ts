/** Accepted: 2 % a year of any failure, and 2 % of a lot in its first year. A choice, without a source. */
export const ACCEPTED_A_YEAR = 0.02;
