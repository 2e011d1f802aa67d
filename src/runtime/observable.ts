/** Something that has a value now and tells when it changes. Fits React's external-store hook. */
export interface Readable<T> {
  get(): T;
  /** Calls `listener` after every change until the returned function is called. */
  subscribe(listener: () => void): () => void;
}

/** A {@link Readable} that its owner can change. */
export interface Writable<T> extends Readable<T> {
  set(value: T): void;
}

/**
 * Holds one value. Setting a value that `same` finds equal to the present one tells nobody, so that
 * a check twice a second does not redraw a screen twice a second.
 */
export function writable<T>(initial: T, same: (a: T, b: T) => boolean = Object.is): Writable<T> {
  let current = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => current,
    set(value) {
      if (same(current, value)) return;
      current = value;
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** A list of listeners for things that happen and leave no value behind. */
export interface Signal<T> {
  emit(value: T): void;
  /** Calls `listener` at every occurrence until the returned function is called. */
  listen(listener: (value: T) => void): () => void;
}

/** Makes a {@link Signal}. */
export function signal<T>(): Signal<T> {
  const listeners = new Set<(value: T) => void>();
  return {
    emit(value) {
      for (const listener of [...listeners]) listener(value);
    },
    listen(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
