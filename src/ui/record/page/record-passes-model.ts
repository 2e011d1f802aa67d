/** Passes of light, in words: what was confirmed of each, when it was stopped, and by whom. Pure. */
import type { PassFact, PassPlaceFact } from '../../../export/record-types.ts';
import { recordWords } from '../../../words/record-words.ts';
import { subjectLabel, surfaceOn } from '../../../words/subject-words.ts';
import type { RecordNote } from './record-changes-model.ts';
import { clockWords, instantWords, type RecordFrame } from './record-frame.ts';

function turnWords(frame: RecordFrame, { kind, at, pressed }: PassFact['turns'][number]): string {
  const when = instantWords(frame, at);
  return pressed === null ? recordWords.passUnwatched(when) : recordWords.passTurns[kind](when);
}

function confirmedWords(frame: RecordFrame, { confirmed }: PassFact): string[] {
  if (confirmed === null) return [];
  const { pressed, impliedBy } = confirmed;
  const told = { at: clockWords(frame, pressed.pressedUtc), by: pressed.by ?? '' };
  return [
    impliedBy === null
      ? recordWords.passConfirmedAt(told)
      : recordWords.passConfirmedWith({ ...told, step: impliedBy.title }),
  ];
}

function passNote(frame: RecordFrame, pass: PassFact, n: number): RecordNote {
  const of = (state: PassPlaceFact['state']): string[] =>
    pass.places
      .filter((place) => place.state === state)
      .map(({ subject, surface, teeth }) =>
        recordWords.place({
          subject: subjectLabel(subject, frame.scene.spec),
          surface: surfaceOn(surface, teeth),
        }),
      );
  const { title, turns, confirmed } = pass;
  const [given, left] = [of('confirmed'), of('left-out')];
  const words =
    confirmed === null
      ? recordWords.passOpen({ title, places: of('open') })
      : given.length === 0
        ? recordWords.passNone(title)
        : recordWords.passConfirmed({ title, places: given });
  const [first, ...later] = turns;
  return {
    id: `pass ${n}`,
    moment: first ? instantWords(frame, first.at) : '',
    words,
    who: first?.pressed?.by ?? '',
    detail: recordWords.several([
      ...later.map((turn) => turnWords(frame, turn)),
      ...confirmedWords(frame, pass),
      ...(left.length === 0 ? [] : [recordWords.passLeftOut(left)]),
    ]),
  };
}

/** Whether tones were heard, then each pass that they led through. */
export function recordPasses(frame: RecordFrame): RecordNote[] {
  const { tones, passes } = frame.facts;
  return [
    ...tones.map(({ heard, pressed }, n) => ({
      id: `tones ${n}`,
      moment: clockWords(frame, pressed.pressedUtc),
      words: heard ? recordWords.tonesHeard : recordWords.tonesNotHeard,
      who: pressed.by ?? '',
    })),
    ...passes.map((pass, n) => passNote(frame, pass, n)),
  ];
}
