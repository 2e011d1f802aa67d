/** The sections of the text that tell what happened beside the steps. */
import { besideWords, countedWords, injectionWords } from '../words/beside-words.ts';
import { emergencyNoteWords, emergencyWords } from '../words/emergency-words.ts';
import { about, tellingOf, told } from './export-words.ts';
import type { RecordFacts } from './record-types.ts';

/** Emergencies, anaesthesia, and what was counted in and out; no lines where there is nothing. */
export function asideSections(
  facts: RecordFacts,
): readonly { readonly title: string; readonly lines: readonly string[] }[] {
  const tell = tellingOf(facts);
  const { emergencies = [], anaesthesia = [], counts = [] } = facts;
  return [
    {
      title: emergencyWords.setting.title,
      lines: emergencies.map((note) =>
        about(told([tell.instant(note.at), note.pressed.by]), emergencyNoteWords(note)),
      ),
    },
    {
      title: besideWords.title,
      lines: anaesthesia.map((given) =>
        about(
          told([tell.instant(given.at), given.pressed.by]),
          injectionWords(given, facts.notation),
        ),
      ),
    },
    {
      title: besideWords.counts,
      lines: counts.map((count) => countedWords(count, { isSigned: true })),
    },
  ];
}
