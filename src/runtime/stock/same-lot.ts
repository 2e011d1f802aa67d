const lotKey = (lot: string): string => lot.replace(/\s/g, '').toUpperCase();

/** Lots are compared without case and blanks: people type them from a tube. */
export const sameLot = (a: string, b: string): boolean => lotKey(a) === lotKey(b);
