/** The part of the journal that mends cases, loaded only where one is damaged. Apart from the others: they lead to it. */
export const loadMending = () => import('./mend-all.ts');
