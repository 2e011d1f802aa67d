import { useLocation } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { coachWords } from '../../words/tour-words.ts';
import { useSession } from '../shared/session-context.ts';
import { type Lesson, lessonOf } from '../shared/tour.ts';
import './coach.css';

/** Where no clock runs there is room for a button that a glove can hit; else More has one. */
const LEAVES: ReadonlySet<Lesson> = new Set(['bar', 'undo', 'close', 'record']);

/** One line above the bar that explains one thing at a time. Only in the first look. */
export function Coach({ running }: { readonly running: RunningCase }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const lesson = lessonOf(running);
  if (lesson === null) return null;
  const leave = (): void => {
    session.leaveCase();
    navigate('/');
  };
  return (
    <aside className="coach" aria-label={coachWords.title}>
      <p className="coach-words" role="status">
        {coachWords.lessons[lesson]}
      </p>
      {LEAVES.has(lesson) && (
        <button type="button" className="coach-leave" onClick={leave}>
          {coachWords.leave}
        </button>
      )}
    </aside>
  );
}
