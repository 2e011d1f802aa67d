import type { CSSProperties, ReactNode } from 'react';
import './step.css';
import { partWords } from '../../words/part-words.ts';

interface StepHeadingProps {
  /** What to do now: "Rinse". */
  readonly doing: string;
  /** On what: "12", "unit 21", "mix 2". Undefined when the step is for the whole case. */
  readonly subject?: string | undefined;
  /** Who does it; a `PersonTag`. */
  readonly person?: ReactNode;
  /** One quiet line: "Round 2 of 3 · enamel only". */
  readonly detail?: string | undefined;
  /** What stands behind a figure of the press: "15 s: 13.6 s for 8 J/cm²". */
  readonly reason?: ReactNode;
}

/** A letter of the typeface is at most so wide on average, as a share of its size. */
const LETTER_EM = 0.58;

/** Width of the longest piece that must stay in one line, in em. */
function longestEm(props: StepHeadingProps): string {
  const pieces = [...props.doing.split(' '), props.subject ?? ''];
  return (LETTER_EM * Math.max(...pieces.map((piece) => piece.length))).toFixed(2);
}

/** What to do now and on which tooth, readable at two metres. */
export function StepHeading(props: StepHeadingProps) {
  return (
    <header className="lw-step" style={{ '--longest-em': longestEm(props) } as CSSProperties}>
      <h1 className="lw-step-line">
        <span className="lw-step-doing">{props.doing}</span>
        {props.subject !== undefined && (
          <>
            {' '}
            <span className="lw-step-subject">{props.subject}</span>
          </>
        )}
      </h1>
      {(props.detail !== undefined || props.person !== undefined) && (
        <div className="lw-step-detail">
          {props.person}
          {props.detail !== undefined && <p>{props.detail}</p>}
          {props.reason}
        </div>
      )}
    </header>
  );
}

interface NextLineProps {
  /** "Rinse 11". */
  readonly words: string;
  /** "in 8 s". */
  readonly when?: string | undefined;
}

/** What comes after this, in one line. */
export function NextLine(props: NextLineProps) {
  return (
    <p className="lw-next">
      <span className="lw-next-label">{partWords.next}</span>
      <span className="lw-next-words">{props.words}</span>
      {props.when !== undefined && <span className="lw-next-when">{props.when}</span>}
    </p>
  );
}

interface PersonTagProps {
  readonly name: string;
  /** "assistant". */
  readonly duty?: string | undefined;
}

/** Who does or did this; dentist and others differ by their word, not by a colour. */
export function PersonTag(props: PersonTagProps) {
  return (
    <span className="lw-person">
      <span className="lw-person-name">{props.name}</span>
      {props.duty !== undefined && <span className="lw-person-role">{props.duty}</span>}
    </span>
  );
}
