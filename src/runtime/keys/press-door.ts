/**
 * The one door by which what a person presses reaches the case: bar, key, pedal and sheet alike, in
 * whichever window. Inside, in this order: the door may be locked (the screen is being wiped), a
 * bounce is taken for one press, what sounds is hushed, and the case stamps and decides. What it refuses
 * is heard.
 */
import type { Command, Pressed, Refusal } from '../../engine/commands.ts';
import type { BounceGuard, Touch, Verb } from './bounce.ts';

export interface PressDoor {
  /** What a key or pedal means. False when it did not count. */
  verb(verb: Verb): boolean;
  /** What the bar says now, or the offer that was touched. A refusal is shown by the case itself. */
  press(offer?: Pressed): Refusal | null;
  /** Anything else that one touch asks of the case. Null when it was taken, or was a bounce. */
  do(command: Command): Refusal | null;
  /** A touch that does something beside the case. False when it follows another too closely. */
  accepts(touch: Touch): boolean;
  /** Calls `listener` for each press of a key that counts, until the returned function is called. */
  onPress(listener: () => void): () => void;
  /** While it is locked nothing comes through. */
  setLocked(o: { readonly isLocked: boolean }): void;
}

/** The running case as the door sees it. */
interface CaseBehind {
  do(command: Command): Refusal | null;
  pressNext(): Refusal | null;
  /** Null while no case runs in this window. */
  standing(): {
    /** The newest alert that nobody has acknowledged. */
    readonly cue: string | null;
    readonly canUndo: boolean;
  } | null;
}

const touchOf = (command: Command): Touch => (command.do === 'retime' ? 'ago' : command.do);

export function createPressDoor(o: {
  readonly guard: BounceGuard;
  readonly hush: () => void;
  /** Sounds that a press was not taken. */
  readonly refused: () => void;
  readonly behind: CaseBehind;
}): PressDoor {
  const { guard, hush, refused, behind } = o;
  const listeners = new Set<() => void>();
  let isLocked = false;

  const comesThrough = (touch: Touch): boolean => {
    if (isLocked || !guard.accept(touch)) return false;
    hush();
    return true;
  };
  const heard = (refusal: Refusal | null): Refusal | null => {
    if (refusal !== null) refused();
    return refusal;
  };
  const act = (verb: Verb): void => {
    const standing = behind.standing();
    if (standing === null) return;
    if (verb === 'press') heard(behind.pressNext());
    else if (verb === 'undo') {
      if (standing.canUndo) heard(behind.do({ do: 'undo' }));
    } else if (standing.cue !== null) behind.do({ do: 'acknowledge', cue: standing.cue });
  };
  return {
    verb(verb) {
      if (!comesThrough(verb)) return false;
      act(verb);
      if (verb === 'press') for (const listener of listeners) listener();
      return true;
    },
    press(offer) {
      if (!comesThrough('press')) return null;
      return heard(offer === undefined ? behind.pressNext() : behind.do({ do: 'press', offer }));
    },
    do: (command) => (comesThrough(touchOf(command)) ? heard(behind.do(command)) : null),
    accepts: comesThrough,
    onPress(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    setLocked: ({ isLocked: next }) => {
      isLocked = next;
    },
  };
}
