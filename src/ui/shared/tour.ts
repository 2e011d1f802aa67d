/** The first look: a rehearsal of a few steps on the app's own chair, with a line that explains. */

import type { RunningCase } from '../../runtime/app-state.ts';
import { readFirstLook } from '../../runtime/library/first-look.ts';
import type { Session } from '../../runtime/session.ts';
import type { coachWords } from '../../words/tour-words.ts';

export type Lesson = keyof typeof coachWords.lessons;

/** Opens the rehearsal. False when it could not be opened, for example because its files did not come. */
export async function beginTour(session: Session): Promise<boolean> {
  const first = await readFirstLook();
  if (first === null) return false;
  const { spec, entry } = first;
  const opened = await session
    .openCase({ spec, mode: 'rehearsal', speed: 1, draft: entry })
    .catch(() => null);
  return opened?.ok === true;
}

/** What there is to say at the next press: by step, kind of press, and which tooth of the two. */
const LESSONS: Readonly<Record<string, Lesson>> = {
  'tray confirm 11': 'bar',
  'units confirm 11': 'undo',
  'etch start 11': 'start',
  'etch start 21': 'ago',
  'etch end 11': 'clock',
  'etch end 21': 'own',
  'dry confirm 11': 'windows',
  'seat confirm 11': 'wrong',
  'seat confirm 21': 'list',
  'light light-on 11': 'light',
  'light light-off 11': 'lightOff',
  'light light-on 21': 'light',
  'light light-off 21': 'lightOff',
};

/** What the coach says now; null when there is nothing to say. */
export function lessonOf(running: RunningCase): Lesson | null {
  if (running.log.state.closed !== null) return 'record';
  const top = running.view.attention.inHand;
  if (!top || running.view.finished) return 'close';
  const tooth = top.subjects.some((s) => s.endsWith(':21')) && top.subjects.length === 1 ? 21 : 11;
  return LESSONS[`${top.step} ${top.kind} ${tooth}`] ?? null;
}
