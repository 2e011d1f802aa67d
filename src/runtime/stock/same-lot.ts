/** What people type from a tube is compared without what does not tell two things apart. Pure. */

/** What two ways of writing one lot have in common. */
export const lotKey = (lot: string): string => lot.replace(/\s/g, '').toUpperCase();

/** Lots are compared without case and blanks: people type them from a tube. */
export const sameLot = (a: string, b: string): boolean => lotKey(a) === lotKey(b);

const classKey = (materialClass: string): string => materialClass.trim().toLowerCase();

/** Classes are compared without case and the blanks around them: people type them. */
export const sameClass = (a: string, b: string): boolean => classKey(a) === classKey(b);
