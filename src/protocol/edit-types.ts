/**
 * What can be done to a protocol while it is a draft. Every edit is plain data: it can be kept
 * through a reload, replayed and undone. A place inside a protocol is named by ids, so that an edit
 * means the same after steps were moved.
 */

import type { Basis, Figure, Protocol, Step } from './types.ts';
import { isFigure } from './walk-figures.ts';

/** The lists of a protocol whose entries have an id. */
export const PARTS = [
  'steps',
  'windows',
  'waysBack',
  'slots',
  'cautions',
  'sources',
  'stages',
  'lists',
] as const;
export type Part = (typeof PARTS)[number];

/** One field of one entry, or of the protocol itself. `key` is dotted: `action.targetMs`. */
export interface Spot {
  readonly part: Part | 'protocol';
  /** Id of the entry; empty for the protocol itself. */
  readonly id: string;
  readonly key: string;
}

export type PartItem = NonNullable<Protocol[Part]>[number];

/** The entries of one list of a protocol; none where the document leaves it out. */
export const entriesIn = (protocol: Protocol, part: Part): readonly PartItem[] =>
  protocol[part] ?? [];

export type Edit =
  | { readonly do: 'set-figure'; readonly spot: Spot; readonly figure: Figure }
  /** One basis for many numbers: one document that covers them all. */
  | { readonly do: 'set-basis'; readonly spots: readonly Spot[]; readonly basis: Basis }
  /** An empty text takes an optional field away. */
  | { readonly do: 'set-text'; readonly spot: Spot; readonly text: string }
  | { readonly do: 'set-field'; readonly spot: Spot; readonly value: unknown }
  | { readonly do: 'clear'; readonly spot: Spot }
  /** `before` is the id of the entry it is to stand in front of; null puts it last. */
  | {
      readonly do: 'add';
      readonly part: Part;
      readonly item: PartItem;
      readonly before: string | null;
    }
  | { readonly do: 'duplicate-step'; readonly step: string; readonly newId: string }
  /** Removes the entry and every reference to it. Why it goes is kept with the edit. */
  | {
      readonly do: 'remove';
      readonly part: Part;
      readonly id: string;
      readonly reason?: string;
    }
  | {
      readonly do: 'move';
      readonly part: Part;
      readonly id: string;
      readonly before: string | null;
    }
  /** Another document takes its place: the outcome of a merge. */
  | { readonly do: 'replace'; readonly protocol: Protocol };

/** The numbers that bind: what the instructions of a product are asked about. */
const BINDING_KEYS = [
  'action.minMs',
  'action.targetMs',
  'action.maxMs',
  'action.count',
  'action.gapMsMin',
  'action.perSurfaceMs',
  'action.doseJPerCm2',
  'action.restMs',
  'action.passesMax',
] as const;
/** What a press for several subjects is judged by: how long each of them takes. */
const PRESSED_KEYS = [
  'pressed.start.shortestMs',
  'pressed.start.longestMs',
  'pressed.end.shortestMs',
  'pressed.end.longestMs',
  'pressed.changeMs',
] as const;
/** The rhythm of the hands: for planning, learned from the clinic's own cases. */
const PACE_KEYS = [
  'pace.medianMs',
  'pace.p90Ms',
  'pace.perSubjectMs',
  'hands.applyMs',
  'hands.rinseMs',
] as const;
/** The last is an assumption about the room, which no product instructs. */
const WINDOW_KEYS = ['minMs', 'targetMs', 'maxMs', 'q10'] as const;

/** Times that a dwell keeps for one class of material: `action.byMaterial.leucite.targetMs`. */
export type MaterialKey = `action.byMaterial.${string}.${'minMs' | 'targetMs' | 'maxMs'}`;

/** Times that a dwell keeps for subjects of which more is known: `action.variants.0.targetMs`. */
export type VariantKey = `action.variants.${number}.${'minMs' | 'targetMs' | 'maxMs'}`;

export type FigureKey =
  | MaterialKey
  | VariantKey
  | (typeof BINDING_KEYS)[number]
  | (typeof PRESSED_KEYS)[number]
  | (typeof PACE_KEYS)[number]
  | (typeof WINDOW_KEYS)[number];

/** A number with where it stands. */
export interface PlacedFigure {
  readonly spot: Spot & { readonly key: FigureKey };
  readonly figure: Figure;
  /** Title of the step or window. */
  readonly title: string;
  /** False for the rhythm of the hands, which no product instructs. */
  readonly binds: boolean;
}

/** The value at a dotted key; undefined where the way ends. */
export function fieldAt(item: unknown, key: string): unknown {
  return key
    .split('.')
    .reduce<unknown>(
      (inner, name) =>
        typeof inner === 'object' && inner !== null && Object.hasOwn(inner, name)
          ? Reflect.get(inner, name)
          : undefined,
      item,
    );
}

/** What an entry goes by: its title, label or words, else its id. */
export function titleOf(item: PartItem): string {
  if ('title' in item) return item.title;
  if ('label' in item) return item.label;
  return 'words' in item && typeof item.words === 'string' ? item.words : item.id;
}

/** The entry of a list with this id; the first when an id is doubled. */
export function itemAt(protocol: Protocol, at: { readonly part: Part; readonly id: string }) {
  return entriesIn(protocol, at.part).find((item) => item.id === at.id);
}

function placed(
  owner: { readonly id: string; readonly title: string },
  o: { readonly part: 'steps' | 'windows'; readonly key: FigureKey; readonly binds: boolean },
): PlacedFigure[] {
  const figure = fieldAt(owner, o.key);
  if (!isFigure(figure)) return [];
  const spot = { part: o.part, id: owner.id, key: o.key };
  return [{ spot, figure, title: owner.title, binds: o.binds }];
}

function materialKeys({ action }: Step): readonly (MaterialKey | VariantKey)[] {
  if (action.kind !== 'dwell') return [];
  const names = ['minMs', 'targetMs', 'maxMs'] as const;
  const variants = (action.variants ?? []).flatMap((_, i) =>
    names.map((name): VariantKey => `action.variants.${i}.${name}`),
  );
  const materials = Object.keys(action.byMaterial ?? {}).flatMap((material) =>
    names.map((name): MaterialKey => `action.byMaterial.${material}.${name}`),
  );
  return [...materials, ...variants];
}

/** The numbers of one step: first those that bind, then the rhythm of the hands. */
function figuresOfStep(step: Step): readonly PlacedFigure[] {
  return [
    ...BINDING_KEYS.flatMap((key) => placed(step, { part: 'steps', key, binds: true })),
    ...materialKeys(step).flatMap((key) => placed(step, { part: 'steps', key, binds: true })),
    ...PRESSED_KEYS.flatMap((key) => placed(step, { part: 'steps', key, binds: true })),
    ...PACE_KEYS.flatMap((key) => placed(step, { part: 'steps', key, binds: false })),
  ];
}

/** Every number of the protocol in document order, steps before windows. */
export function figuresOf(protocol: Protocol): readonly PlacedFigure[] {
  return [
    ...protocol.steps.flatMap(figuresOfStep),
    ...protocol.windows.flatMap((window) =>
      WINDOW_KEYS.flatMap((key) => placed(window, { part: 'windows', key, binds: key !== 'q10' })),
    ),
  ];
}

/** The numbers that still wait for a product instruction or a written rule of the clinic. */
export function unconfirmedFigures(protocol: Protocol): readonly PlacedFigure[] {
  return figuresOf(protocol).filter(({ figure, binds }) => {
    return binds && figure.basis.kind !== 'instructions';
  });
}

/** Numbers whose review was due before `today`, an ISO 8601 date. */
export function overdueFigures(protocol: Protocol, today: string): readonly PlacedFigure[] {
  return figuresOf(protocol).filter(({ figure: { basis } }) => {
    return basis.kind === 'instructions' && (basis.reviewDue ?? today) < today;
  });
}

const PLACE = /^protocol(?:\.([A-Za-z]+)\[(\d+)\])?(?:\.(.*))?$/;

/** The spot that a finding's place names; null for the protocol as a whole or no place of it. */
export function spotOfPlace(protocol: Protocol, place: string): Spot | null {
  const [, list, index, key = ''] = PLACE.exec(place) ?? [];
  const part = PARTS.find((name) => name === list);
  if (part === undefined) return null;
  const item = entriesIn(protocol, part)[Number(index)];
  return item === undefined ? null : { part, id: item.id, key: key.replace(/\.value$/, '') };
}
