/**
 * What is typed into a form and was not applied, kept for this window through a page that is loaded anew.
 * It ends with the window: applying is what makes it last.
 */

/** What a stored value has to be to be taken again. */
export interface Stored<T> {
  /** Names the kind of form. Another name is due when its values get another shape. */
  readonly name: string;
  readonly fits: (value: unknown) => value is T;
}

/** Stands for a number that nobody has typed yet, which JSON has no word for. */
const BLANK = '\u0000blank';

const placeOf = (name: string, key: string): string => `desk 1 ${name} ${key}`;

const packed = (_key: string, value: unknown): unknown => (Number.isNaN(value) ? BLANK : value);
const unpacked = (_key: string, value: unknown): unknown => (value === BLANK ? Number.NaN : value);

/** Null where nothing was stored, or something that no longer fits. */
export function takeStored<T>({ name, fits }: Stored<T>, key: string): { value: T } | null {
  try {
    const text = sessionStorage.getItem(placeOf(name, key));
    if (text === null) return null;
    const value: unknown = JSON.parse(text, unpacked);
    return fits(value) ? { value } : null;
  } catch {
    return null;
  }
}

export function store<T>({ name }: Stored<T>, key: string, value: T): void {
  try {
    sessionStorage.setItem(placeOf(name, key), JSON.stringify(value, packed));
  } catch {
    // Without room it still outlives the closing of the desk.
  }
}

export function dropStored<T>({ name }: Stored<T>, key: string): void {
  try {
    sessionStorage.removeItem(placeOf(name, key));
  } catch {
    // A window that may keep nothing has nothing to lose.
  }
}
