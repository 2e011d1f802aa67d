/**
 * What is being taken over from other tablets at this moment, by the hash of an entry or the id of a fact: the
 * journal tells of it like of everything that it stores, and it must not be offered as new.
 */
export class Brought {
  readonly #names = new Set<string>();

  add(names: Iterable<string>): void {
    for (const name of names) this.#names.add(name);
  }

  /** Whether it was brought; asked once for each telling. */
  took(name: string): boolean {
    return this.#names.delete(name);
  }
}
