/**
 * Whether two protocols say the same but for the ids that their entries got and the bases of their
 * numbers. What belongs together is found by what people read: titles, labels, words. For tests only.
 */
import { isRecord } from '../../src/base/json.ts';
import type { Part } from '../../src/protocol/edit-types.ts';
import { entriesIn, PARTS, titleOf } from '../../src/protocol/edit-types.ts';
import type { Protocol, Step } from '../../src/protocol/types.ts';

/** Ids of one document by those of another, part by part; options by the step or choice they belong to. */
export type Ids = ReadonlyMap<string, string>;

const named = (part: string, id: string): string => `${part}/${id}`;

type Entry = { readonly id: string };

/** What people tell an entry by. Two steps of one title differ in what they are done for. */
function nameOf(item: Entry): string {
  if ('citation' in item && typeof item.citation === 'string') return item.citation;
  const title = titleOf(item as never);
  return 'per' in item && 'action' in item ? `${title} ${String(item.per)}` : title;
}

/** Pairs first by name, then by id, of what is left. */
function pairs<T extends Entry>(
  from: readonly T[],
  to: readonly T[],
): readonly (readonly [T, T])[] {
  const left = new Set(to);
  const found: [T, T][] = [];
  const take = (fits: (a: T, b: T) => boolean): void => {
    for (const item of from) {
      if (found.some(([a]) => a === item)) continue;
      const other = [...left].find((each) => fits(item, each));
      if (other === undefined) continue;
      left.delete(other);
      found.push([item, other]);
    }
  };
  take((a, b) => nameOf(a) === nameOf(b));
  take((a, b) => a.id === b.id);
  return found;
}

interface Optioned {
  readonly id: string;
  readonly label: string;
}

function optionsOf({ action }: Step): readonly Optioned[] {
  if (action.kind === 'choose') return action.options;
  return action.kind === 'confirm' && action.evidence?.kind === 'choice'
    ? action.evidence.options
    : [];
}

/** The id that each entry of `from` has in `to`. */
export function idsBetween(from: Protocol, to: Protocol): Ids {
  const ids = new Map<string, string>();
  const options = (owner: string, a: readonly Optioned[], b: readonly Optioned[]): void => {
    for (const [x, y] of pairs(a, b)) ids.set(`${owner} ${x.id}`, y.id);
  };
  for (const part of PARTS) {
    for (const [a, b] of pairs<Entry>(entriesIn(from, part), entriesIn(to, part))) {
      ids.set(named(part, a.id), b.id);
    }
  }
  for (const [a, b] of pairs(from.steps, to.steps)) {
    options(named('steps', a.id), optionsOf(a), optionsOf(b));
  }
  for (const [a, b] of pairs(from.choices ?? [], to.choices ?? [])) {
    ids.set(named('choices', a.id), b.id);
    options(named('choices', a.id), a.options, b.options);
  }
  return ids;
}

/** Fields that name an entry, or several, and of which part. */
const NAMES: Readonly<Record<string, Part | 'choices'>> = {
  step: 'steps',
  roundOf: 'steps',
  beginsWith: 'steps',
  equals: 'steps',
  voided: 'steps',
  onlyAfter: 'steps',
  confirmedBy: 'steps',
  redo: 'steps',
  by: 'steps',
  stage: 'stages',
  wayBack: 'waysBack',
  list: 'lists',
  slot: 'slots',
  uses: 'slots',
  cautions: 'cautions',
  choice: 'choices',
};

class Renaming {
  readonly #ids: Ids;

  constructor(ids: Ids) {
    this.#ids = ids;
  }

  id(key: string, id: string): string {
    return this.#ids.get(key) ?? id;
  }

  /** One field, with the ids of entries under their new names. */
  field(
    key: string,
    value: unknown,
    owner: Readonly<Record<string, unknown>>,
    above: string,
  ): unknown {
    if (key === 'basis') return value;
    const part = NAMES[key];
    if (part !== undefined && typeof value === 'string') return this.id(named(part, value), value);
    if (
      part !== undefined &&
      Array.isArray(value) &&
      value.every((each) => typeof each === 'string')
    ) {
      return value.map((each: string) => this.id(named(part, each), each));
    }
    if (key === 'option')
      return this.id(`${named('steps', String(owner['step']))} ${value}`, String(value));
    if (key === 'is' && 'choice' in owner && Array.isArray(value)) {
      return value.map((each) =>
        this.id(`${named('choices', String(owner['choice']))} ${each}`, each),
      );
    }
    if (key === 'default' || key === 'id') return this.id(`${above} ${value}`, String(value));
    return this.inside(
      value,
      key === 'options' && 'id' in owner ? named('choices', String(owner['id'])) : above,
    );
  }

  inside(value: unknown, above: string): unknown {
    if (Array.isArray(value)) return value.map((each) => this.inside(each, above));
    if (!isRecord(value)) return value;
    const kept = Object.entries(value);
    return Object.fromEntries(
      kept.map(([key, inner]) => [key, this.field(key, inner, value, above)]),
    );
  }
}

/** The document under the ids of another one. */
export function renamed(protocol: Protocol, ids: Ids): Readonly<Record<string, unknown>> {
  const names = new Renaming(ids);
  const entries = Object.entries(protocol).map(([key, value]): [string, unknown] => {
    if (!Array.isArray(value)) return [key, value];
    const list = value.map((item: unknown) => {
      if (!isRecord(item)) return item;
      const own = named(key, String(item['id']));
      const { id, ...rest } = item;
      const inner = names.inside(rest, own);
      return isRecord(inner) ? { id: names.id(own, String(id)), ...inner } : inner;
    });
    return [key, list];
  });
  return Object.fromEntries(entries);
}

/** Places at which two values differ, whatever the order of keys, and whatever the bases of their numbers. */
export function differences(a: unknown, b: unknown, place = ''): readonly string[] {
  if (Array.isArray(a) && Array.isArray(b)) {
    const length = Math.max(a.length, b.length);
    return Array.from({ length }, (_, i) => differences(a[i], b[i], `${place}[${i}]`)).flat();
  }
  if (isRecord(a) && isRecord(b)) {
    const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((k) => k !== 'basis');
    return keys.flatMap((key) => differences(a[key], b[key], `${place}.${key}`));
  }
  return Object.is(a, b) ? [] : [`${place}: ${JSON.stringify(a)} | ${JSON.stringify(b)}`];
}
