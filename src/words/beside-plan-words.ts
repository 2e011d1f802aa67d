/** What a plan says of anaesthesia and rests, line by line. */
import { anaesthesiaTable } from '../plan/anaesthesia-table.ts';
import { type PlannedNumbness, plannedNumbness } from '../plan/planned-numbness.ts';
import { type RestMoment, type RestStretch, restStretches } from '../plan/rest-moments.ts';
import type { Timeline } from '../plan/timeline.ts';
import { agentWords, besideWords, minutesWords, techniqueWords } from './beside-words.ts';
import { stepOf } from './offer-words.ts';
import type { CaseNaming } from './step-texts.ts';
import { subjectsLabel } from './subject-words.ts';

interface Work {
  readonly step: string;
  readonly subjects: readonly string[];
}

const workWords = ({ step, subjects }: Work, { protocol, spec }: CaseNaming): string =>
  besideWords.stepOf({
    title: stepOf(protocol, step)?.title ?? step,
    subject: subjectsLabel(subjects, spec),
  });

function numbLines(planned: PlannedNumbness, naming: CaseNaming): string[] {
  const words = besideWords.planned;
  const { agent, technique, givenAtMs, endsAtMs, warnAtMs, late } = planned;
  const what = besideWords.givenAs({
    agent: agentWords(agent),
    technique: techniqueWords(technique),
  });
  const ends =
    endsAtMs === null || warnAtMs === null
      ? words.noEnd
      : words.ends({ at: minutesWords(endsAtMs), warn: minutesWords(warnAtMs) });
  // Each step once, where it first lies behind the warning: the teeth follow one another there.
  const firsts = late.filter((each, n) => late.findIndex((l) => l.step === each.step) === n);
  const told = firsts.map(({ step, atMs }) => {
    const title = stepOf(naming.protocol, step)?.title ?? step;
    return words.lateStep({ step: title, at: minutesWords(atMs) });
  });
  return [
    words.given({ what, at: minutesWords(givenAtMs) }),
    ends,
    ...(told.length > 0 ? [words.late(told)] : []),
    ...(warnAtMs !== null && told.length === 0 ? [words.lasts] : []),
  ];
}

function stretchWords({ first, last, mayRinse }: RestStretch, naming: CaseNaming): string {
  const words = besideWords.planned;
  const told = (moment: RestMoment) =>
    words.before({ work: workWords(moment, naming), at: minutesWords(moment.atMs) });
  const from = told(first);
  const when = first === last ? from : words.fromTo({ from, to: told(last) });
  return mayRinse ? words.rinseToo(when) : when;
}

/** Told on the screen and in the terminal alike. */
export function besidePlanLines(
  timeline: Pick<Timeline, 'bars' | 'bands' | 'startMs'>,
  naming: CaseNaming,
): readonly string[] {
  const words = besideWords.planned;
  const planned = plannedNumbness({ ...naming, timeline, table: anaesthesiaTable() });
  const rests = restStretches(timeline, naming.protocol).map((s) => stretchWords(s, naming));
  return [
    ...(planned === null ? [] : numbLines(planned, naming)),
    ...(rests.length === 0 ? [words.noRests] : [words.rests, ...rests]),
  ];
}
