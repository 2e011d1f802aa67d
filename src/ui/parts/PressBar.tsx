import { type KeyboardEvent, type ReactNode, useState } from 'react';
import './press-bar.css';
import type { Urgency } from '../../words/codes.ts';
import { partWords } from '../../words/part-words.ts';
import { type MarkShape, StateMark } from './StateMark.tsx';

interface PressBarProps {
  /** Exactly what will be recorded: "Gel on 12". */
  readonly words: string;
  /** What and when: "in 8 s", "8 s early", "coat 3 of 5". */
  readonly subWords?: string | undefined;
  readonly urgency: Urgency;
  /** True from the press until its write has finished. */
  readonly pending?: boolean | undefined;
  /** True while a pedal or key elsewhere is held down, so that the bar looks pressed. */
  readonly pressed?: boolean | undefined;
  /** Nothing can be recorded now; the words say why. */
  readonly blocked?: boolean | undefined;
  readonly leftHanded?: boolean | undefined;
  readonly onPress: () => void;
  /** The undo end; its place is kept when there is nothing to undo. */
  readonly undo?: ReactNode;
}

const MARKS: Record<Urgency, MarkShape> = {
  ready: 'empty',
  early: 'part',
  due: 'target',
  over: 'spilled',
};

/** More letters than this take the smaller size, so that the bar keeps its height. */
const LONG_WORDS = 13;

/** A held key repeats; only its first press may count. */
function ignoreRepeat(event: KeyboardEvent): void {
  if (event.repeat) event.preventDefault();
}

/** The one wide bar. It says in words what pressing it records, and shows the press at once. */
export function PressBar(props: PressBarProps) {
  const [held, setHeld] = useState(false);
  const release = (): void => setHeld(false);
  const pending = props.pending === true;
  const blocked = props.blocked === true;
  const subWords = pending ? partWords.recording : props.subWords;
  return (
    <div className="lw-bar-row" data-left-handed={props.leftHanded === true}>
      <button
        type="button"
        className="lw-bar"
        data-urgency={props.urgency}
        data-pending={pending}
        data-pressed={held || props.pressed === true}
        aria-disabled={pending || blocked}
        aria-busy={pending}
        onPointerDown={() => setHeld(true)}
        onPointerUp={release}
        onPointerCancel={release}
        onPointerLeave={release}
        onKeyDown={(event) => {
          ignoreRepeat(event);
          if (event.key === ' ' || event.key === 'Enter') setHeld(true);
        }}
        onKeyUp={release}
        onBlur={release}
        onClick={() => {
          if (!pending && !blocked) props.onPress();
        }}
      >
        <StateMark shape={MARKS[props.urgency]} />
        <span className="lw-bar-text">
          <span className="lw-bar-words" data-long={props.words.length > LONG_WORDS}>
            {props.words}
          </span>
          {subWords !== undefined && <span className="lw-bar-sub">{subWords}</span>}
        </span>
      </button>
      {props.undo}
    </div>
  );
}
