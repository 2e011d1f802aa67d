import type { ReactNode } from 'react';
import './status.css';
import { type MarkShape, StateMark } from './StateMark.tsx';

type BannerTone = 'plain' | 'attention' | 'broken';

interface BannerProps {
  readonly tone: BannerTone;
  /** What happened, in one line. */
  readonly words: string;
  /** What to do about it. */
  readonly advice?: string | undefined;
  readonly action?: ReactNode;
}

const MARKS: Record<BannerTone, MarkShape> = {
  plain: 'empty',
  attention: 'target',
  broken: 'broken',
};

/** A line across the page about the whole page; never over it. */
export function Banner(props: BannerProps) {
  return (
    <div
      className="lw-banner"
      data-tone={props.tone}
      role={props.tone === 'broken' ? 'alert' : 'status'}
    >
      <StateMark shape={MARKS[props.tone]} />
      <div className="lw-banner-text">
        <p className="lw-banner-words">{props.words}</p>
        {props.advice !== undefined && <p className="lw-banner-advice">{props.advice}</p>}
      </div>
      {props.action !== undefined && <div className="lw-banner-action">{props.action}</div>}
    </div>
  );
}

interface CautionNoteProps {
  /** The caution itself, one or two sentences. */
  readonly children: ReactNode;
  /** Where it comes from: "Product instructions", "common practice, no source". */
  readonly source?: string | undefined;
}

/** A caution beside the thing it is about: calm, always readable, never in the way. */
export function CautionNote(props: CautionNoteProps) {
  return (
    // A note, not a landmark: a page may hold several cautions.
    <div className="lw-caution" role="note">
      <p>{props.children}</p>
      {props.source !== undefined && <p className="lw-caution-source">{props.source}</p>}
    </div>
  );
}

interface EmptyStateProps {
  readonly words: string;
  readonly advice?: string | undefined;
  readonly action?: ReactNode;
}

/** Nothing here yet, and what to do about it. */
export function EmptyState(props: EmptyStateProps) {
  return (
    <div className="lw-empty">
      <StateMark shape="empty" />
      <p className="lw-empty-words">{props.words}</p>
      {props.advice !== undefined && <p className="lw-empty-advice">{props.advice}</p>}
      {props.action}
    </div>
  );
}
