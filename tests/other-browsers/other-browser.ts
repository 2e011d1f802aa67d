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
  /** SIGKILL to the browser and to every process that it started. */
  kill(): Promise<void>;
}

export interface Maker {
  readonly name: string;
  /** What a person would install to have it. */
  readonly wants: string;
  /** What else it takes to keep a profile; empty where nothing does. */
  readonly wantsToKeep: string;
  /**
   * Starts the browser. `null`: this machine does not have it.
   *
   * @param profile the folder in which it keeps what pages store; one of its own when left out.
   */
  make(profile?: string): Promise<OtherBrowser | null>;
}

export const WIDTH_PX = 1180;
export const HEIGHT_PX = 820;

export const pause = (ms: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, ms));

/** SIGKILL to a process that was started as the head of its group, and to the whole group. */
export function killGroup(pid: number | undefined): void {
  if (pid === undefined) return;
  try {
    process.kill(-pid, 'SIGKILL');
  } catch {
    // It had ended by itself.
  }
}
