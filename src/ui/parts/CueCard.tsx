import type { ReactNode } from 'react';
import { MS_PER_SECOND } from '../../base/units.ts';
import { formatWords } from '../../words/duration.ts';
import './cue-card.css';
import { partWords } from '../../words/part-words.ts';
import { type MarkShape, StateMark } from './StateMark.tsx';

/** What an alert is about; each kind has its own shape as well as its own words. */
export type CueKind = 'nearing' | 'now' | 'over' | 'closing' | 'broken' | 'tablet';

interface CueCardProps {
  readonly kind: CueKind;
  /** "Rinse 12 now". */
  readonly words: string;
  /** Tooth, unit or mix in the notation of the person: "12". */
  readonly subject?: string | undefined;
  /** Infinity when nobody knows since when it has been so. */
  readonly ageMs: number;
  /** The condition still holds; an alert that has ended but latches says so in `note`. */
  readonly note?: string | undefined;
  /** Absent where another window or another tablet acknowledges it. */
  readonly onAcknowledge?: (() => void) | undefined;
}

const MARKS: Record<CueKind, MarkShape> = {
  nearing: 'part',
  now: 'target',
  over: 'spilled',
  closing: 'full',
  broken: 'cracked',
  tablet: 'broken',
};

function ageLine({ ageMs, note }: CueCardProps): string {
  if (!Number.isFinite(ageMs)) return note ?? partWords.cueAgeUnknown;
  // Nothing was over 0 s ago: a second that has begun counts.
  const age = formatWords(Math.max(MS_PER_SECOND, ageMs));
  return note === undefined ? partWords.cueAge(age) : partWords.cueAgeNote({ age, note });
}

/** One alert as a card. It stays until somebody says that it was seen. */
export function CueCard(props: CueCardProps) {
  return (
    <article className="lw-cue" data-kind={props.kind}>
      <StateMark shape={MARKS[props.kind]} />
      <div className="lw-cue-text">
        <p className="lw-cue-words">{props.words}</p>
        <p className="lw-cue-age" aria-live="off">
          {ageLine(props)}
        </p>
      </div>
      {props.subject !== undefined && <p className="lw-cue-subject">{props.subject}</p>}
      {props.onAcknowledge !== undefined && (
        <button
          type="button"
          className="lw-cue-button"
          aria-label={partWords.acknowledgeName(props.words)}
          onClick={props.onAcknowledge}
        >
          {partWords.acknowledge}
        </button>
      )}
    </article>
  );
}

/** Several alerts under one another; none covers another. */
export function CueStack({ children }: { readonly children: ReactNode }) {
  return (
    <section
      className="lw-cues"
      aria-label={partWords.cues}
      aria-live="assertive"
      aria-relevant="additions"
    >
      {children}
    </section>
  );
}
