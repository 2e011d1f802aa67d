import type { ReactNode } from 'react';
import './controls.css';

type ButtonRank = 'main' | 'plain' | 'quiet' | 'grave';

interface ButtonProps {
  readonly children: ReactNode;
  readonly onPress?: (() => void) | undefined;
  /** `main` once a page, `grave` for what cannot be taken back. */
  readonly rank?: ButtonRank | undefined;
  /** `chair` gives it the size of a chair target. */
  readonly size?: 'page' | 'chair' | undefined;
  readonly disabled?: boolean | undefined;
  readonly type?: 'button' | 'submit' | undefined;
  /** A longer name for screen readers where the word alone does not tell rows apart. */
  readonly name?: string | undefined;
  /** Set for a button that stays pressed; screen readers are told. */
  readonly on?: boolean | undefined;
}

/** A button with a word. */
export function Button(props: ButtonProps) {
  return (
    <button
      type={props.type ?? 'button'}
      className="lw-button"
      data-rank={props.rank ?? 'plain'}
      data-size={props.size ?? 'page'}
      disabled={props.disabled === true}
      aria-label={props.name}
      aria-pressed={props.on}
      onClick={props.onPress}
    >
      {props.children}
    </button>
  );
}

interface ButtonRowProps {
  readonly children: ReactNode;
}

/** Buttons beside one another, wrapping where room is short. */
export function ButtonRow({ children }: ButtonRowProps) {
  return <div className="lw-button-row">{children}</div>;
}
