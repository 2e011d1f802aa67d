/** What the chair says of anaesthesia, rests and counts. Pure, so that it can be tested without a screen. */

import { elapsed } from '../../engine/axis.ts';
import { countsOf } from '../../engine/counts.ts';
import { isFieldClosed, mayRestNow } from '../../engine/rest-now.ts';
import type { CaseInstant } from '../../engine/types.ts';
import type { Clock } from '../../engine/view-types.ts';
import { anaesthesiaTable } from '../../plan/anaesthesia-table.ts';
import { numbRows } from '../../plan/numb-rows.ts';
import type { Replan } from '../../plan/replan.ts';
import { REST_MS, type RestMoment } from '../../plan/rest-moments.ts';
import type { Timeline } from '../../plan/timeline.ts';
import { toothSubject } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import {
  agentWords,
  besideWords,
  countedInWords,
  countedWords,
  pulpWords,
  sinceWords,
  softTissueWords,
  soonWords,
  techniqueWords,
} from '../../words/beside-words.ts';
import { stepOf } from '../../words/offer-words.ts';
import { planWords } from '../../words/plan-words.ts';
import { subjectsLabel } from '../../words/subject-words.ts';
import { namingOf } from '../shared/arch-model.ts';

/** "Gel on 12": what a moment lies before. */
function before(
  { step, subjects }: Pick<RestMoment, 'step' | 'subjects'>,
  running: RunningCase,
): string {
  const { protocol, spec } = namingOf(running);
  const title = stepOf(protocol, step)?.title ?? step;
  return besideWords.stepOf({ title, subject: subjectsLabel(subjects, spec) });
}

/** One line: whether the patient may rest or rinse now, else the next moment of the plan. */
export function restLine(
  running: RunningCase,
  { nextRest, nextRinse }: Pick<Replan, 'nextRest' | 'nextRinse'>,
): string {
  const isClosed = isFieldClosed(running.log.state);
  const { protocol } = namingOf(running);
  const mayRest = mayRestNow(running.view, { protocol, restMs: REST_MS });
  if (mayRest && !isClosed) return besideWords.rinseNow;
  const told = (moment: RestMoment) => ({
    before: before(moment, running),
    span: soonWords(moment.atMs - running.view.at.loMs),
  });
  const rinse = nextRinse && besideWords.rinseNext(told(nextRinse));
  const rest = mayRest ? besideWords.restNow : nextRest && besideWords.restNext(told(nextRest));
  if (!mayRest && nextRest?.mayRinse) return rinse ?? besideWords.noRest;
  if (rest && rinse) return besideWords.restThenRinse({ rest, rinse });
  return rest ?? rinse ?? besideWords.noRest;
}

/** From how far ahead it is said that the plan puts off what may be pressed. A design choice. */
const PUT_OFF_MS = 60_000;

const restOf = ({ minMs, elapsed: since }: Clock): number => (minMs ?? 0) - since.loMs;

/** What must run longer still before something else, the longest first. */
const waitsIn = ({ clocks }: RunningCase['view']): readonly Clock[] =>
  clocks
    .filter((clock) => (clock.kind === 'window' || clock.kind === 'hold') && restOf(clock) > 0)
    .toSorted((a, b) => restOf(b) - restOf(a));

/**
 * What the thing in hand waits for; or that the plan puts it off although it may be pressed: an etched tooth
 * would wait for an adhesive that is still cold. Null where it neither waits nor is put off.
 */
export function waitLine(
  running: RunningCase,
  { timeline }: { readonly timeline: Pick<Timeline, 'bars'> },
): string | null {
  const { attention, at } = running.view;
  const { inHand } = attention;
  if (inHand === null) return null;
  const { step, subjects, dueInMs } = inHand;
  const what = before({ step, subjects }, running);
  const waits = waitsIn(running.view);
  if (dueInMs > 0) {
    const { windows } = namingOf(running).protocol;
    const ends = new Set(windows.filter(({ to }) => to.step === step).map(({ id }) => id));
    const own = waits.find((clock) => ends.has(clock.of));
    return own === undefined ? null : planWords.waitsFor({ what, runs: own.title });
  }
  const bar = timeline.bars.find(
    (each) => each.step === step && each.subjects.some((subject) => subjects.includes(subject)),
  );
  const leftMs = (bar?.startMs ?? 0) - at.loMs;
  const [longest] = waits;
  if (leftMs <= PUT_OFF_MS || longest === undefined) return null;
  return planWords.putOff({ what, when: soonWords(leftMs), runs: longest.title });
}

export interface BesideLine {
  readonly id: string;
  readonly words: string;
  readonly detail: string;
  /** Said loudly: the pulp may wake, or the numbers differ. */
  readonly warning: string | null;
}

/** One line for each injection, the newest first: what is running out stands on top. */
export function injectionLines(running: RunningCase, now: CaseInstant): readonly BesideLine[] {
  const { spec } = namingOf(running);
  const rows = numbRows(running.log.state, now, anaesthesiaTable());
  return rows
    .map((row, n): BesideLine => {
      const { injection, numbness, toCome } = row;
      const span = sinceWords(row.elapsed);
      const steps = toCome.map(({ title }) => title);
      const teeth = subjectsLabel(injection.teeth.map(toothSubject), spec);
      const where = besideWords.forTeeth({ technique: techniqueWords(injection.technique), teeth });
      const parts = [where, pulpWords(numbness), softTissueWords(numbness)];
      return {
        id: String(n),
        words: besideWords.elapsed({ what: agentWords(injection.agent), span }),
        detail: besideWords.details([
          ...parts,
          ...(steps.length > 0 && !row.isWarning ? [besideWords.toCome(steps)] : []),
        ]),
        warning: row.isWarning ? besideWords.ending({ at: span, steps }) : null,
      };
    })
    .toReversed();
}

/** What is still in the mouth, and what did not come out as it went in. */
export function countLines(running: RunningCase, now: CaseInstant): readonly BesideLine[] {
  return countsOf(running.log.state).flatMap((count): BesideLine[] => {
    const told = { ...count, title: count.isOut ? count.label : count.inLabel };
    const id = `${count.step.id} ${count.subject}`;
    if (count.isEven) return [];
    if (count.isOut) {
      return [{ id, words: '', detail: '', warning: countedWords(told, { isSigned: false }) }];
    }
    const span = sinceWords(elapsed(count.since, now));
    return [{ id, words: countedInWords(told, span), detail: '', warning: null }];
  });
}
