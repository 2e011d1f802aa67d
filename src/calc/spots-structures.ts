/**
 * Where the discs of the best known coverings of a rectangle stand, one start for each structure
 * that is best over some range of side ratios; rows need no start. Positions are shares of the
 * longer and the shorter side. Found by our own search from many random starts at side ratios 1 to
 * 4.5; the radii agree with those published for the square (see the tests).
 */
export type Structure = readonly (readonly [across: number, up: number])[];

export const STRUCTURES: readonly Structure[] = [
  [
    [0.9201, 0.5],
    [0.4201, 0.25],
    [0.4201, 0.75],
  ],
  [
    [0.25, 0.25],
    [0.25, 0.75],
    [0.75, 0.25],
    [0.75, 0.75],
  ],
  [
    [0.1104, 0.5],
    [0.5, 0],
    [0.5, 1],
    [0.8896, 0.5],
  ],
  [
    [0.1486, 0.6965],
    [0.25, 0.1965],
    [0.5, 0.7414],
    [0.75, 0.1965],
    [0.8514, 0.6965],
  ],
  [
    [0.2197, 0.25],
    [0.2197, 0.75],
    [0.5, 0.5],
    [0.7803, 0.25],
    [0.7803, 0.75],
  ],
  [
    [0.0897, 0.5],
    [0.4103, 0],
    [0.4103, 1],
    [0.7309, 0.5],
    [0.9103, 0.5],
  ],
  [
    [0.1421, 0.736],
    [0.1815, 0.2359],
    [0.4606, 0.7597],
    [0.5394, 0.2403],
    [0.8185, 0.7641],
    [0.8579, 0.264],
  ],
  [
    [0.1648, 0.25],
    [0.1648, 0.75],
    [0.4046, 0.5],
    [0.6648, 0],
    [0.6648, 1],
    [0.9251, 0.5],
  ],
  [
    [0.0805, 0.5],
    [0.2415, 0.5],
    [0.5, 0],
    [0.5, 1],
    [0.7585, 0.5],
    [0.9195, 0.5],
  ],
];
