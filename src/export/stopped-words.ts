/** A visit that was stopped early, and changes of the numbering, in lines of the record. */
import { exportWords } from '../words/export-words.ts';
import { about, subjectWords, type Telling, told } from './export-words.ts';
import type { RecordFacts, StoppedFact } from './record-types.ts';

const named = (subjects: readonly string[]): string =>
  subjects
    .map(subjectWords)
    .filter((words) => words !== '')
    .join(', ');

/** When and why, then what was left, then what the protocol proposes for it. */
export function stoppedLines(stopped: StoppedFact | null, tell: Telling): string[] {
  if (stopped === null) return [];
  const { at, reason, pressed, left, proposals } = stopped;
  return [
    told([tell.instant(at), exportWords.because(reason), pressed.by]),
    ...left.map(({ title, subjects }) => exportWords.left(told([title, named(subjects)]))),
    ...proposals.map(({ words, subjects }) =>
      exportWords.proposed(named(subjects) === '' ? words : about(named(subjects), words)),
    ),
  ];
}

export function numberingLines(all: RecordFacts['numberings'], tell: Telling): string[] {
  return all.map(({ notation, pressed }) =>
    told([exportWords.numberings[notation], tell.moment(pressed.pressedLocal), pressed.by]),
  );
}
