/** The one line by which a running case is seen on every page away from the chair. */
export const runningLine = {
  place: 'Running case',
  toChair: (chartRef: string): string => `${chartRef}, to the chair`,
  rehearsal: (speed: number): string => `Rehearsal ${speed}\u00d7`,
  stop: 'Stop the rehearsal',
  drill: 'Drill',
  endDrill: 'End the drill',
};
