/**
 * What differs between two protocols, told by ids and fields rather than by lines of text. A number
 * with its basis is one field; so is every list inside an entry. The same changes, chosen one by
 * one, merge two protocols. The revision number is no difference: it is given when a draft is
 * confirmed.
 */

import {
  type Edit,
  entriesIn,
  fieldAt,
  PARTS,
  type Part,
  type PartItem,
  type Spot,
  titleOf,
} from './edit-types.ts';
import type { Protocol } from './types.ts';
import { isFigure } from './walk-figures.ts';

interface Of {
  readonly part: Part | 'protocol';
  readonly id: string;
  /** Title, label or words of the entry. */
  readonly title: string;
}

export type Change =
  | (Of & { readonly kind: 'added' | 'removed'; readonly part: Part; readonly item: PartItem })
  /** Places are counted from 0 among the entries that both have. */
  | (Of & {
      readonly kind: 'moved';
      readonly part: Part;
      readonly from: number;
      readonly to: number;
    })
  /** `before` or `after` is undefined where the field is missing. */
  | (Of & {
      readonly kind: 'changed';
      readonly key: string;
      readonly before: unknown;
      readonly after: unknown;
    });

function isPlain(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The same JSON value, whatever the order of keys. */
function sameJson(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (Array.isArray(a) && Array.isArray(b)) {
    return a.length === b.length && a.every((item, i) => sameJson(item, b[i]));
  }
  if (!isPlain(a) || !isPlain(b)) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(b, key) && sameJson(a[key], b[key]))
  );
}

/** Fields that make sense only together are compared as one: an action of another kind, a moment. */
const WHOLE_KEYS: ReadonlySet<string> = new Set([
  'from',
  'to',
  'until',
  'basis',
  'evidence',
  'hands',
]);

function opensUp(before: unknown, after: unknown, name: string): boolean {
  if (!isPlain(before) || !isPlain(after) || WHOLE_KEYS.has(name)) return false;
  if (isFigure(before) || isFigure(after)) return false;
  return before['kind'] === after['kind'];
}

interface Leaf {
  readonly key: string;
  readonly before: unknown;
  readonly after: unknown;
}

function leaves(before: object, after: object, under = ''): Leaf[] {
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return names.flatMap((name) => {
    const [b, a] = [fieldAt(before, name), fieldAt(after, name)];
    const key = under === '' ? name : `${under}.${name}`;
    if (sameJson(b, a)) return [];
    if (isPlain(b) && isPlain(a) && opensUp(b, a, name)) return leaves(b, a, key);
    return [{ key, before: b, after: a }];
  });
}

/** Positions of a longest rising run; what is not on it was moved. Quadratic, for short lists. */
function longestRising(places: readonly number[]): ReadonlySet<number> {
  const length = places.map(() => 1);
  const cameFrom = places.map(() => -1);
  let best = -1;
  places.forEach((place, i) => {
    for (let j = 0; j < i; j += 1) {
      const candidate = (length[j] ?? 0) + 1;
      if ((places[j] ?? 0) < place && candidate > (length[i] ?? 0)) {
        length[i] = candidate;
        cameFrom[i] = j;
      }
    }
    if (best < 0 || (length[i] ?? 0) > (length[best] ?? 0)) best = i;
  });
  const kept = new Set<number>();
  for (let i = best; i >= 0; i = cameFrom[i] ?? -1) kept.add(i);
  return kept;
}

function firstOfEach(list: readonly PartItem[]): readonly PartItem[] {
  return list.filter((item, i) => list.findIndex((other) => other.id === item.id) === i);
}

function partChanges(part: Part, beforeAll: readonly PartItem[], afterAll: readonly PartItem[]) {
  const [before, after] = [firstOfEach(beforeAll), firstOfEach(afterAll)];
  const was = new Map(before.map((item) => [item.id, item]));
  const is = new Map(after.map((item) => [item.id, item]));
  const stayed = after.filter((item) => was.has(item.id));
  const oldPlace = new Map(
    before.filter((item) => is.has(item.id)).map((item, place) => [item.id, place]),
  );
  const places = stayed.map((item) => oldPlace.get(item.id) ?? 0);
  const rising = longestRising(places);
  const changes: Change[] = [];
  for (const item of before) {
    const of = { part, id: item.id, title: titleOf(item) };
    if (!is.has(item.id)) changes.push({ kind: 'removed', ...of, item });
  }
  for (const item of after) {
    const old = was.get(item.id);
    const of = { part, id: item.id, title: titleOf(old ?? item) };
    if (old === undefined) changes.push({ kind: 'added', ...of, item });
    else for (const leaf of leaves(old, item)) changes.push({ kind: 'changed', ...of, ...leaf });
    const at = stayed.indexOf(item);
    if (at >= 0 && !rising.has(at)) {
      changes.push({ kind: 'moved', ...of, from: places[at] ?? 0, to: at });
    }
  }
  return changes;
}

const HEAD_KEYS = ['language', 'title', 'summary', 'restorations', 'materials', 'choices'] as const;

/** Every difference, the head of the document first, then list by list in the order of `after`. */
export function diffProtocols(before: Protocol, after: Protocol): readonly Change[] {
  const head = HEAD_KEYS.flatMap((key): Change[] =>
    sameJson(before[key], after[key])
      ? []
      : [
          {
            kind: 'changed',
            part: 'protocol',
            id: '',
            title: before.title,
            key,
            before: before[key],
            after: after[key],
          },
        ],
  );
  return [
    ...head,
    ...PARTS.flatMap((part) => partChanges(part, entriesIn(before, part), entriesIn(after, part))),
  ];
}

/** Names a change so that a choice about it can be kept; the same change has the same name. */
export function changeId(change: Change): string {
  const what = change.kind === 'changed' ? change.key : change.kind;
  return `${change.part}/${change.id}/${what}`;
}

/** The first entry behind this one in `after` that will be there to stand in front of. */
type Follower = (change: Change & { readonly part: Part }) => string | null;

function followerIn(changes: readonly Change[], after: Protocol, here?: Protocol): Follower {
  const placed = new Set(changes.map(({ part, id }) => `${part}/${id}`));
  return ({ part, id }) => {
    const list = entriesIn(after, part);
    const behind = list.slice(list.findIndex((item) => item.id === id) + 1);
    if (here === undefined) return behind[0]?.id ?? null;
    const there = new Set(entriesIn(here, part).map((item) => item.id));
    const next = behind.find((item) => there.has(item.id) || placed.has(`${part}/${item.id}`));
    return next?.id ?? null;
  };
}

function editsOf(change: Change, followerOf: Follower): readonly Edit[] {
  const { part, id } = change;
  if (change.kind === 'changed') {
    const spot: Spot = { part, id, key: change.key };
    return change.after === undefined
      ? [{ do: 'clear', spot }]
      : [{ do: 'set-field', spot, value: change.after }];
  }
  if (change.kind === 'removed') return [{ do: 'remove', part: change.part, id }];
  const before = followerOf(change);
  if (change.kind === 'moved') return [{ do: 'move', part: change.part, id, before }];
  return [{ do: 'add', part: change.part, item: change.item, before }];
}

/**
 * The edits that bring chosen changes of `diffProtocols(here, other)` into `here`. Entries come in
 * from the last to the first, so that each finds the one it stands in front of; with `here`, where
 * only some were chosen, that is the next one which `here` has or gets.
 */
export function editsForChanges(
  changes: readonly Change[],
  other: Protocol,
  here?: Protocol,
): readonly Edit[] {
  const isPlaced = (change: Change) => change.kind === 'added' || change.kind === 'moved';
  const placeIn = (change: Change): number => {
    if (change.part === 'protocol') return 0;
    return entriesIn(other, change.part).findIndex((item) => item.id === change.id);
  };
  const removed = changes.filter((change) => change.kind === 'removed');
  const placed = changes.filter(isPlaced).toSorted((a, b) => placeIn(b) - placeIn(a));
  const changed = changes.filter((change) => change.kind === 'changed');
  const isMoment = ({ part, key }: (typeof changed)[number]): boolean =>
    part === 'windows' && (key === 'from' || key === 'to');
  const moments = changed.filter(isMoment);
  const rest = changed.filter((change) => !isMoment(change));
  // Removing a step takes along the windows that still stand on it, so those let go of it before. Else
  // removing comes first: it also takes references away, which `changed` may then put right.
  const followerOf = followerIn(placed, other, here);
  const inOrder = [...moments, ...removed, ...placed, ...rest];
  return inOrder.flatMap((change) => editsOf(change, followerOf));
}

/** Which side a difference comes from, seen from the revision that both began with. */
export type Side = 'here' | 'other' | 'both';

/** `changes` are those of `diffProtocols(here, other)`. Without a common base all are `both`. */
export function sidesOf(o: {
  readonly changes: readonly Change[];
  readonly base: Protocol | null;
  readonly here: Protocol;
  readonly other: Protocol;
}): ReadonlyMap<string, Side> {
  const { base, changes, here, other } = o;
  if (base === null) return new Map(changes.map((change) => [changeId(change), 'both']));
  const touched = (side: Protocol) =>
    new Set(diffProtocols(base, side).map((c) => `${c.part}/${c.id}`));
  const exact = (side: Protocol) => new Set(diffProtocols(base, side).map(changeId));
  const [hereExact, otherExact] = [exact(here), exact(other)];
  const [hereTouched, otherTouched] = [touched(here), touched(other)];
  const sideOf = (change: Change): Side => {
    const owner = `${change.part}/${change.id}`;
    const isField = change.kind === 'changed';
    const isHere = isField ? hereExact.has(changeId(change)) : hereTouched.has(owner);
    const isOther = isField ? otherExact.has(changeId(change)) : otherTouched.has(owner);
    if (isHere === isOther) return 'both';
    return isHere ? 'here' : 'other';
  };
  return new Map(changes.map((change) => [changeId(change), sideOf(change)]));
}
