/** A list of listeners for things that happen and leave no value behind; what has a value is a store. */
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
