/**
 * The places of a protocol at which a line of a sheet can stand: every number that binds, and those
 * that a step can have and has not, such as the most of an etch that only names its target. Pure.
 */
import { canonicalText } from './canonical-text.ts';
import { type FigureKey, figuresOf } from './edit-types.ts';
import type { SheetSpot } from './sheet-types.ts';
import type { Figure, Protocol, Step } from './types.ts';

export interface SheetPlace {
  readonly spot: SheetSpot & { readonly key: FigureKey };
  /** Title of the step or window. */
  readonly title: string;
  /** Null where the protocol has no number there yet. */
  readonly figure: Figure | null;
}

/** What a step may say and does not: a shortest or longest time, a pause between two coats. */
function unsaid({ action }: Step): readonly FigureKey[] {
  if (action.kind === 'coats') return action.gapMsMin === undefined ? ['action.gapMsMin'] : [];
  if (action.kind !== 'dwell') return [];
  return [
    ...(action.minMs === undefined ? (['action.minMs'] as const) : []),
    ...(action.maxMs === undefined ? (['action.maxMs'] as const) : []),
  ];
}

const VARIANT = /^action\.variants\.(\d+)\./;

/** Says of a number of a variant what the variant is for. */
function whereOf(protocol: Protocol, { id, key }: Pick<SheetSpot, 'id' | 'key'>) {
  const index = VARIANT.exec(key)?.[1];
  const step = index === undefined ? undefined : protocol.steps.find((one) => one.id === id);
  if (step?.action.kind !== 'dwell') return {};
  const variant = step.action.variants?.[Number(index)];
  return variant === undefined ? {} : { where: canonicalText(variant.where) };
}

/** Every place in document order, those without a number last. */
export function sheetPlaces(protocol: Protocol): readonly SheetPlace[] {
  const said = figuresOf(protocol).flatMap(({ spot, figure, title, binds }): SheetPlace[] => {
    const { part, id, key } = spot;
    if (!binds || (part !== 'steps' && part !== 'windows')) return [];
    const where = part === 'steps' ? whereOf(protocol, { id, key }) : {};
    return [{ spot: { protocol: protocol.id, part, id, key, ...where }, title, figure }];
  });
  const open = protocol.steps.flatMap((step) =>
    unsaid(step).map((key): SheetPlace => {
      const spot = { protocol: protocol.id, part: 'steps', id: step.id, key } as const;
      return { spot, title: step.title, figure: null };
    }),
  );
  return [...said, ...open];
}

/** The key of a variant without its number, which another one may have by now. */
const nameOf = ({ key }: Pick<SheetSpot, 'key'>): string =>
  key.replace(VARIANT, 'action.variants.');

/** The same number of a step or window, in whichever protocol. */
export const isLikeSpot = (a: SheetSpot, b: SheetSpot): boolean =>
  a.part === b.part && a.id === b.id && a.where === b.where && nameOf(a) === nameOf(b);

export const isSameSpot = (a: SheetSpot, b: SheetSpot): boolean =>
  a.protocol === b.protocol && isLikeSpot(a, b);
