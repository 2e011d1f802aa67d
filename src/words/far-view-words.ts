/** Words of the far view. */
export const farViewWords = {
  place: 'Far view',
  empty: 'No case is running',
  emptyTodo:
    'This view shows the running case by itself, also when the case runs in another window of this tablet.',
  toToday: 'Today',
  allDone: 'All done',
  closed: 'Case closed',
  stale: 'Not live',
  staleTodo:
    'The window that runs the case has stopped. This picture stands still: look at the other screen.',
  rehearsal: (speed: number): string => `Rehearsal ${speed}\u00d7`,
  noClock: 'No step is being timed',
} as const;
