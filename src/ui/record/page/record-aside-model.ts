/** Emergencies, anaesthesia and what was counted in and out, in words. Pure. */

import { numbnessOf } from '../../../calc/anaesthesia.ts';
import type { InjectionFact } from '../../../export/record-aside-types.ts';
import { anaesthesiaTable } from '../../../plan/anaesthesia-table.ts';
import {
  besideWords,
  countedWords,
  injectionWords,
  pulpWords,
  softTissueWords,
} from '../../../words/beside-words.ts';
import { emergencyNoteWords } from '../../../words/emergency-words.ts';
import type { RecordNote } from './record-changes-model.ts';
import { instantWords, type RecordFrame, wallOf } from './record-frame.ts';

function emergencies(frame: RecordFrame): RecordNote[] {
  return (frame.facts.emergencies ?? []).map((note, n) => ({
    id: String(n),
    moment: instantWords(frame, note.at),
    words: emergencyNoteWords(note),
    who: note.pressed.by ?? '',
  }));
}

/** What to tell the patient at the end: until when the lip is numb, by the published range. */
function lipWords(frame: RecordFrame, given: InjectionFact): string {
  const soft = numbnessOf(anaesthesiaTable(), given)?.softTissueMs ?? null;
  if (soft === null) return besideWords.endLipUnknown;
  return besideWords.endLip(frame.times.time(wallOf(given.at.fromUtc) + soft.hiMs));
}

function anaesthesia(frame: RecordFrame): RecordNote[] {
  const all = frame.facts.anaesthesia ?? [];
  return all.map((given, n) => {
    const numbness = numbnessOf(anaesthesiaTable(), given);
    const ranges = [pulpWords(numbness), softTissueWords(numbness)];
    const end =
      n === all.length - 1 && frame.facts.signOff !== null ? [lipWords(frame, given)] : [];
    return {
      id: String(n),
      moment: instantWords(frame, given.at),
      words: injectionWords(given, frame.facts.notation),
      who: given.pressed.by ?? '',
      detail: besideWords.details([...ranges, ...end]),
    };
  });
}

function counts(frame: RecordFrame): RecordNote[] {
  return (frame.facts.counts ?? []).map((count) => {
    return {
      id: `${count.step} ${count.subject}`,
      moment: '',
      words: countedWords(count, { isSigned: true }),
      who: '',
    };
  });
}

/** Each empty where there is nothing to tell. */
export function recordAside(frame: RecordFrame) {
  return {
    emergencies: emergencies(frame),
    anaesthesia: anaesthesia(frame),
    counts: counts(frame),
  };
}
