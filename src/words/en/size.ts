/** What can be read from how far. */
export const size = {
  tooSmall: (o: { readonly distance: string; readonly near: string }): string =>
    `Screen too small for ${o.distance}: read it from ${o.near}`,
  bigEnough: (distance: string): string => `Large enough for ${distance}`,
  sample: 'As the chair shows it',
  sampleLede: 'Put the tablet in its place, sit down where the dentist sits, and read this.',
  sampleStep: 'Etch',
  sampleSubject: '12',
  sampleLabel: 'Sample of the clock',
  seconds: 'Seconds',
  step: 'Step and tooth',
  heights: (o: { readonly is: string; readonly wanted: string }): string =>
    `${o.is} high, ${o.wanted} wanted`,
  source: 'ISO 9241-303: 22 minutes of arc for the seconds, 16 for step and tooth',
};
