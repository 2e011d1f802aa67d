/**
 * What a sheet would change in a protocol: for each place of each line that somebody read, the number
 * that stands there now and the one of the sheet, with the document behind it. Pure.
 */
import type { Edit, FigureKey } from './edit-types.ts';
import { isSameSpot, type SheetPlace, sheetPlaces } from './sheet-places.ts';
import { stepsUsing } from './sheet-spots.ts';
import { type ProductSheet, type SheetLine, type SheetSpot, valueForKey } from './sheet-types.ts';
import type { Basis, Figure, Protocol } from './types.ts';

type Instructions = Extract<Basis, { kind: 'instructions' }>;

export interface SheetChange {
  readonly line: SheetLine;
  readonly spot: SheetSpot & { readonly key: FigureKey };
  /** Title of the step or window. */
  readonly title: string;
  /** Null where the protocol has no number yet. */
  readonly before: Figure | null;
  readonly after: Figure & { readonly basis: Instructions };
  readonly isNumberChanged: boolean;
  /** Another line of the sheet stands at the same place with another number. */
  readonly clashes: boolean;
}

/** The document behind a line that was read; null for one that nobody read in this revision. */
function basisOfLine(
  sheet: Pick<ProductSheet, 'document' | 'revision'>,
  { read, page, asWritten }: SheetLine,
): Instructions | null {
  if (read === undefined) return null;
  const { document, revision } = sheet;
  return {
    kind: 'instructions',
    document,
    revision,
    ...(page !== undefined && { page }),
    asWritten,
    confirmedBy: read.by,
    confirmedOn: read.on,
  };
}

/** Who compared it and when does not make it another document. */
function isSameDocument(basis: Basis | undefined, after: Instructions): boolean {
  if (basis?.kind !== 'instructions') return false;
  const { document, revision, page, asWritten } = after;
  return (
    basis.document === document &&
    basis.revision === revision &&
    basis.page === page &&
    basis.asWritten === asWritten
  );
}

interface Standing {
  readonly line: SheetLine;
  readonly place: SheetPlace;
  readonly value: number;
  readonly basis: Instructions;
}

type Finder = (spot: SheetSpot) => SheetPlace | undefined;

/**
 * Finds the place of a line; none where it is gone, or has become one of another material: a protocol or
 * a step that used the class of the sheet and does not by now is not changed by this sheet.
 */
function placeFinder(protocol: Protocol, { materialClass }: ProductSheet): Finder {
  const places = sheetPlaces(protocol);
  const uses = stepsUsing(protocol, materialClass);
  if (uses.size === 0) return () => undefined;
  return (spot) =>
    spot.used === true && !uses.has(spot.id)
      ? undefined
      : places.find((place) => isSameSpot(place.spot, spot));
}

function standings(protocol: Protocol, sheet: ProductSheet): readonly Standing[] {
  const find = placeFinder(protocol, sheet);
  return sheet.lines.flatMap((line) => {
    const basis = basisOfLine(sheet, line);
    if (basis === null) return [];
    return line.spots.flatMap((spot): Standing[] => {
      const place = find(spot);
      const value = valueForKey(line, spot.key);
      return place === undefined || value === null ? [] : [{ line, place, value, basis }];
    });
  });
}

/** Every place of the protocol at which a line that was read says another number or another document. */
export function sheetChanges(protocol: Protocol, sheet: ProductSheet): readonly SheetChange[] {
  const all = standings(protocol, sheet);
  return all.flatMap(({ line, place, value, basis }): SheetChange[] => {
    const { figure, spot, title } = place;
    const isNumberChanged = figure?.value !== value;
    if (!isNumberChanged && isSameDocument(figure?.basis, basis)) return [];
    const clashes = all.some((other) => other.place === place && other.value !== value);
    const after = { value, basis };
    return [{ line, spot, title, before: figure, after, isNumberChanged, clashes }];
  });
}

/** Places that a line names and that this protocol has no more, or not for this material. */
export function lostSpots(protocol: Protocol, sheet: ProductSheet): readonly SheetSpot[] {
  const find = placeFinder(protocol, sheet);
  return sheet.lines.flatMap((line) =>
    line.spots.filter((spot) => spot.protocol === protocol.id && find(spot) === undefined),
  );
}

export function editOfChange({ spot, after }: SheetChange): Edit {
  const { part, id, key } = spot;
  return { do: 'set-figure', spot: { part, id, key }, figure: after };
}
