/** One prepared case of each family that ships, by its id in demo-data. */
export const ONE_OF_EACH_FAMILY = [
  'eight-upper-veneers',
  'four-veneers-universal',
  'onlay-and-crown',
  'zirconia-crown-and-wing-bridge',
  'two-composite-inlays',
  'prepare-four-veneers',
  'finish-two-veneers',
] as const;
