/**
 * Facts as their writers knew of each other. One comes before another when the other's
 * writer knew it, directly or through facts between; two of which neither writer knew the other stand
 * side by side. Input: facts of one item, each once, in any order. The answers do not depend on the order.
 */

/** What orders a fact: its name, the last ones that its writer knew, and its clock where nothing else does. */
export interface Ordered {
  readonly id: string;
  readonly after: readonly string[];
  readonly atWallMs: number;
  /** Of what was counted once: a lower number of the same item came before a higher one. */
  readonly version?: number;
}

const compare = <T extends number | string>(a: T, b: T): number => (a < b ? -1 : a > b ? 1 : 0);

/** The order in which facts are told that do not know of each other: by their clocks, then by name. */
function told(a: Ordered, b: Ordered): number {
  return compare(a.atWallMs, b.atWallMs) || compare(a.id, b.id);
}

const BITS = 32;

export class History<F extends Ordered> {
  /** Every fact behind those that it follows. */
  readonly inOrder: readonly F[];
  readonly #placeOf = new Map<string, number>();
  /** For the fact at each place, a bit for every place that it came after. */
  readonly #before: Uint32Array[] = [];

  constructor(facts: readonly F[]) {
    const sorted = [...new Map(facts.map((fact) => [fact.id, fact])).values()].toSorted(told);
    const direct = directlyBefore(sorted);
    const inOrder: F[] = [];
    let left: readonly F[] = sorted;
    while (left.length > 0) {
      const waiting = left.filter((fact) => {
        const known = direct.get(fact.id) ?? [];
        if (!known.every((id) => this.#placeOf.has(id))) return true;
        this.#before.push(this.#bitsOf(known, sorted.length));
        this.#placeOf.set(fact.id, inOrder.length);
        inOrder.push(fact);
        return false;
      });
      // A name is made of what the fact knew, so that none can stand before itself; were it so, nothing is dropped.
      const [stuck] = waiting;
      if (waiting.length === left.length && stuck !== undefined) direct.set(stuck.id, []);
      left = waiting;
    }
    this.inOrder = inOrder;
  }

  #bitsOf(known: readonly string[], count: number): Uint32Array {
    const bits = new Uint32Array(Math.ceil(count / BITS));
    for (const id of known) {
      const place = this.#placeOf.get(id) ?? 0;
      const far = this.#before[place];
      far?.forEach((word, n) => {
        bits[n] = (bits[n] ?? 0) | word;
      });
      const n = Math.floor(place / BITS);
      bits[n] = (bits[n] ?? 0) | (1 << (place % BITS));
    }
    return bits;
  }

  /** Whether the writer of `b` knew `a`. */
  isBefore(a: F, b: F): boolean {
    const [from, to] = [this.#placeOf.get(a.id), this.#placeOf.get(b.id)];
    if (from === undefined || to === undefined) return false;
    const word = this.#before[to]?.[Math.floor(from / BITS)] ?? 0;
    return ((word >>> (from % BITS)) & 1) === 1;
  }

  /** Those of `facts` that none other of them came after. */
  lastOf(facts: readonly F[]): readonly F[] {
    // What came after something stands behind it: from the end, each is held against the last ones only.
    const last: F[] = [];
    const place = ({ id }: F): number => this.#placeOf.get(id) ?? 0;
    for (const fact of facts.toSorted((a, b) => place(b) - place(a))) {
      if (!last.some((other) => this.isBefore(fact, other))) last.push(fact);
    }
    const found = new Set(last);
    return facts.filter((fact) => found.has(fact));
  }

  /** What a new fact of this item follows. */
  get heads(): readonly string[] {
    return this.lastOf(this.inOrder)
      .map(({ id }) => id)
      .toSorted(compare);
  }
}

/** The facts right before each, of those that are here: one that is not here yet orders nothing. */
function directlyBefore(facts: readonly Ordered[]): Map<string, readonly string[]> {
  const here = new Set(facts.map(({ id }) => id));
  const counted = facts.flatMap(({ id, version }) =>
    version === undefined ? [] : [{ id, version }],
  );
  const versions = [...new Set(counted.map(({ version }) => version))].toSorted((a, b) => a - b);
  return new Map(
    facts.map(({ id, after, version }) => {
      const named = after.filter((other) => here.has(other) && other !== id);
      if (version === undefined) return [id, named];
      const lower = versions[versions.indexOf(version) - 1];
      const earlier = counted.flatMap((c) => (c.version === lower ? [c.id] : []));
      return [id, [...named, ...earlier]];
    }),
  );
}
