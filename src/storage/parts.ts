/** Parts of the journal that are loaded when they are wanted, and may not be there yet. */
export const parts = {
  compareHomes: () => import('./compare-homes.ts'),
  mendWhileRunning: () => import('./mend-while-running.ts'),
  headsFound: () => import('./heads-found.ts'),
  headsRead: () => import('./heads-read.ts'),
  purgeCase: () => import('./purge-case.ts'),
} as const;
