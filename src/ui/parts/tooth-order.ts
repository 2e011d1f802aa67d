/**
 * Where a tooth stands along its arch as seen from the front: the patient's right is on the left.
 * Input is the two-digit designation of ISO 3950, in which the first digit is the quadrant and the
 * second counts from the midline.
 */

export type Jaw = 'upper' | 'lower';
export type Side = 'right' | 'left';
export type CrownForm = 'central' | 'lateral' | 'canine' | 'premolar' | 'molar';

export interface ToothPlace {
  readonly jaw: Jaw;
  /** The patient's side. */
  readonly side: Side;
  /** 1 beside the midline, up to 8 (5 in the deciduous dentition). */
  readonly fromMidline: number;
  readonly form: CrownForm;
}

const TOOTH_PATTERN = /^([1-8])([1-8])$/;
const POSITIONS_PER_QUADRANT = 8;
const DECIDUOUS_POSITIONS = 5;
const DECIDUOUS_QUADRANT_FIRST = 5;

function crownForm(fromMidline: number, deciduous: boolean): CrownForm {
  if (fromMidline === 1) return 'central';
  if (fromMidline === 2) return 'lateral';
  if (fromMidline === 3) return 'canine';
  if (fromMidline <= 5 && !deciduous) return 'premolar';
  return 'molar';
}

/** The place of a tooth, or undefined when the text is no designation of ISO 3950. */
export function toothPlace(id: string): ToothPlace | undefined {
  const match = TOOTH_PATTERN.exec(id);
  if (match === null) return undefined;
  const quadrant = Number(match[1]);
  const fromMidline = Number(match[2]);
  const deciduous = quadrant >= DECIDUOUS_QUADRANT_FIRST;
  if (deciduous && fromMidline > DECIDUOUS_POSITIONS) return undefined;
  const quarter = ((quadrant - 1) % 4) + 1;
  return {
    jaw: quarter <= 2 ? 'upper' : 'lower',
    side: quarter === 1 || quarter === 4 ? 'right' : 'left',
    fromMidline,
    form: crownForm(fromMidline, deciduous),
  };
}

/** Position from the midline, negative on the patient's right; sorts an arch from left to right. */
export function signedPosition(place: ToothPlace): number {
  return place.side === 'right' ? -place.fromMidline : place.fromMidline;
}

/** The sixteen permanent teeth of one jaw from the left of the picture to its right. */
export function jawTeeth(jaw: Jaw): readonly string[] {
  const [onRight, onLeft] = jaw === 'upper' ? ['1', '2'] : ['4', '3'];
  const counts = Array.from({ length: POSITIONS_PER_QUADRANT }, (_, index) => index + 1);
  return [
    ...counts.toReversed().map((count) => `${onRight}${count}`),
    ...counts.map((count) => `${onLeft}${count}`),
  ];
}

/**
 * How far a tooth lies from the top of its curve, 0 at the midline and 1 at the last molar. The
 * upper arch opens downward, so its molars hang lower; the lower arch is its mirror image.
 */
export function arcDrop(place: ToothPlace): number {
  const share = (place.fromMidline - 0.5) / (POSITIONS_PER_QUADRANT - 0.5);
  return share * share;
}

/** Teeth of one jaw in the order of the picture. Unknown designations keep the order given, last. */
export function inPictureOrder<T extends { readonly id: string }>(
  teeth: readonly T[],
  jaw: Jaw,
): readonly T[] {
  const placed = teeth.flatMap((tooth) => {
    const place = toothPlace(tooth.id);
    return place?.jaw === jaw ? [{ tooth, at: signedPosition(place) }] : [];
  });
  const sorted = placed.toSorted((a, b) => a.at - b.at).map((entry) => entry.tooth);
  const unplaced =
    jaw === 'upper' ? teeth.filter((tooth) => toothPlace(tooth.id) === undefined) : [];
  return [...sorted, ...unplaced];
}
