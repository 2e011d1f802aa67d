/** Words of the far view, which a second device or a window across the room shows. */
export const farView = {
  place: 'Far view',
  empty: 'No case is running',
  emptyTodo: 'The running case appears here by itself, whichever window of this tablet runs it.',
  toToday: 'Today',
  stale: 'Not live',
  staleTodo:
    'The window that runs the case has stopped. These clocks stand still: look at the other screen.',
  rehearsal: (speed: number): string => `Rehearsal ${speed}\u00d7`,
  noClock: 'No step is being timed',
};
