/** Words of the far view, which a second device or a window across the room shows. */
export const farView = {
  place: 'Far view',
  empty: 'No case is running',
  emptyTodo: 'The running case appears here by itself, whichever window of this tablet runs it.',
  toToday: 'Today',
  stale: 'Not live',
  staleTodo:
    'The window that runs the case has stopped. These clocks stand still: look at the other screen.',
  /** `name`: of the tablet that is followed. */
  farStaleTodo: (name: string): string =>
    `No picture comes from ${name}. These clocks stand still: look at its own screen.`,
  following: (name: string): string => `From ${name}`,
  other: 'Follow another tablet',
  choose: 'Which tablet?',
  chooseTodo: 'No case runs on this tablet. Choose one whose case is shown here.',
  runsNone: 'No case is running',
  unheard: 'Not heard of',
  /** The case that runs there is not in this tablet's store yet. */
  onItsWay: (title: string): string => `Waiting for the entries of ${title}`,
  waits: (name: string): string => `Waiting for a case on ${name}`,
  waitsTodo: 'It appears here by itself when it begins.',
  rehearsal: (speed: number): string => `Rehearsal ${speed}\u00d7`,
  noClock: 'No step is being timed',
};
