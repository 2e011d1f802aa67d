/** What the run in another browser needs of it. */
export interface OtherBrowser {
  readonly name: string;
  readonly version: string;
  open(address: string): Promise<void>;
  /** Runs `body` as a function in the page; what it returns must be plain data. */
  ask<T>(body: string): Promise<T>;
  /** A real click, which counts as a gesture of the person. */
  click(selector: string): Promise<void>;
  pressSpace(): Promise<void>;
  picture(): Promise<Uint8Array>;
  close(): Promise<void>;
}

/** `null`: this machine does not have it. */
export interface Maker {
  readonly name: string;
  /** What a person would install to have it. */
  readonly wants: string;
  make(): Promise<OtherBrowser | null>;
}

export const WIDTH_PX = 1180;
export const HEIGHT_PX = 820;

export const pause = (ms: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, ms));
