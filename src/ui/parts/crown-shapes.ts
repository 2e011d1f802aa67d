/**
 * Outlines of crowns seen from the front, in a box of 100 by 100: the upper tooth of the patient's
 * right, its biting edge down and its mesial side to the right. Other teeth are mirror images.
 * Drawn freehand for this app to be told apart at a glance, not to measure from.
 */
import type { CrownForm, Jaw } from './tooth-order.ts';

interface CrownShape {
  readonly path: string;
  /** Width of the drawing against its height. */
  readonly aspect: number;
  /** Width against that of an upper central incisor, so that the arch looks like one. */
  readonly width: number;
}

const UPPER: Record<CrownForm, CrownShape> = {
  central: {
    path: 'M17,13 C26,2 70,0 82,11 C93,30 99,60 97,88 C96,96 92,98 86,98 L20,97 C9,97 4,92 3,82 C2,56 8,30 17,13 Z',
    aspect: 0.86,
    width: 1,
  },
  lateral: {
    path: 'M20,13 C30,2 68,1 79,12 C91,32 97,58 95,84 C94,94 89,97 82,97 L30,95 C14,94 5,86 5,74 C5,52 11,30 20,13 Z',
    aspect: 0.74,
    width: 0.84,
  },
  canine: {
    path: 'M20,12 C31,1 70,1 80,12 C92,30 98,50 95,72 C92,82 68,95 57,99 C53,100 50,100 46,98 C33,92 8,80 5,68 C3,48 10,28 20,12 Z',
    aspect: 0.8,
    width: 0.92,
  },
  premolar: {
    path: 'M18,14 C30,4 70,4 82,14 C93,30 98,52 95,74 C92,84 66,96 54,98 C50,99 47,99 43,97 C31,93 8,84 5,73 C3,52 8,30 18,14 Z',
    aspect: 0.82,
    width: 0.9,
  },
  molar: {
    path: 'M10,14 C24,5 40,9 50,9 C60,9 76,5 90,14 C98,32 100,56 97,76 C94,92 78,99 70,97 C60,95 56,88 50,88 C44,88 40,95 30,97 C20,98 6,90 3,76 C0,56 2,32 10,14 Z',
    aspect: 1.06,
    width: 1.14,
  },
};

const LOWER: Record<CrownForm, CrownShape> = {
  central: {
    path: 'M28,12 C36,2 64,2 72,12 C82,36 92,64 93,90 C93,96 90,98 85,98 L15,98 C10,98 7,96 7,90 C8,64 18,36 28,12 Z',
    aspect: 0.62,
    width: 0.64,
  },
  lateral: {
    path: 'M27,12 C36,2 65,2 74,12 C84,36 94,62 95,88 C95,95 91,98 86,98 L18,97 C10,96 5,92 5,84 C6,60 16,34 27,12 Z',
    aspect: 0.66,
    width: 0.7,
  },
  canine: UPPER.canine,
  premolar: UPPER.premolar,
  molar: UPPER.molar,
};

/** The outline and proportions of a crown. */
export function crownShape(tooth: { readonly form: CrownForm; readonly jaw: Jaw }): CrownShape {
  return tooth.jaw === 'upper' ? UPPER[tooth.form] : LOWER[tooth.form];
}

/** A surface of the crown, as the drawing knows it. */
export type CrownZone = 'facial' | 'edge' | 'mesial' | 'distal' | 'lingual';

/** The zone of the drawing that stands for a surface id, or undefined when it has none. */
export function crownZone(surfaceId: string): CrownZone | undefined {
  switch (surfaceId) {
    case 'facial':
    case 'buccal':
    case 'labial':
      return 'facial';
    case 'incisal':
    case 'occlusal':
      return 'edge';
    case 'mesial':
      return 'mesial';
    case 'distal':
      return 'distal';
    case 'lingual':
    case 'palatal':
      return 'lingual';
    default:
      return undefined;
  }
}

/**
 * The sides around the facial surface, in the same box. The facial surface itself is a smaller
 * crown drawn over them, and the lingual side is a ring around the whole.
 */
export const sidePaths: Record<'mesial' | 'distal' | 'edge', string> = {
  mesial: 'M50,-6 L110,-6 L110,104 L50,50 Z',
  distal: 'M50,-6 L-10,-6 L-10,104 L50,50 Z',
  edge: 'M-10,108 L-10,104 L50,50 L110,104 L110,108 Z',
};
