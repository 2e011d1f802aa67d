/** How steps were pressed, in words: lists, sweeps, what a later press said, and passes of light. */
import { unreachable } from '../base/assert.ts';
import { exportWords } from '../words/export-words.ts';
import { surfaceOn } from '../words/subject-words.ts';
import { secondsWords, subjectWords, type Telling, told } from './export-words.ts';
import type { PassFact, PassPlaceFact, PressFact, RecordFacts, StepFact } from './record-types.ts';

/** `one of 9 lines confirmed together (Opening)`; null where it was pressed for itself. */
export function howWords(step: StepFact, tell: Telling): string | null {
  const { pressed, start, end } = step;
  switch (pressed?.kind) {
    case undefined:
      return null;
    case 'list':
      return exportWords.listed(pressed);
    case 'swept': {
      const began = pressed.start && start ? [exportWords.began(tell.within(start.at))] : [];
      const ended = pressed.end && end ? [exportWords.ended(tell.within(end.at))] : [];
      return exportWords.swept([...began, ...ended]);
    }
    case 'implied': {
      const at = end ?? start;
      const when = at ? tell.within(at.at) : '';
      return exportWords.implied({ by: pressed.title, at: when });
    }
    case 'paced':
      return exportWords.paced(secondsWords(pressed.pacedMs));
    default:
      return unreachable(pressed);
  }
}

/** When a step was done, with how that is known; each instant told once. */
export function whenWords(step: StepFact, tell: Telling): string | null {
  const how = howWords(step, tell);
  const at = step.end?.at ?? step.start?.at;
  const { pressed } = step;
  const isTold = pressed?.kind === 'implied' || (pressed?.kind === 'swept' && pressed.end);
  return told([how, at && !isTold ? tell.instant(at) : null]);
}

/** `27 Nov 2026, 09:31:05 by Assistant B`. */
function when(o: { readonly at: string; readonly pressed: PressFact | null }): string {
  const by = o.pressed?.by ?? null;
  return by === null ? o.at : exportWords.atBy({ at: o.at, by });
}

const placeWords = ({ subject, teeth, surface, setMs }: PassPlaceFact): string =>
  exportWords.placeLit({
    subject: subjectWords(subject),
    surface: surfaceOn(surface, teeth),
    set: secondsWords(setMs),
  });

function turnWords({ kind, at, pressed }: PassFact['turns'][number], tell: Telling): string {
  if (pressed === null) return exportWords.passStoppedUnwatched(tell.instant(at));
  return exportWords.passTurns[kind](when({ at: tell.instant(at), pressed }));
}

function endWords(pass: PassFact, tell: Telling): string[] {
  const of = (state: PassPlaceFact['state']): string[] =>
    pass.places.filter((p) => p.state === state).map(placeWords);
  const { confirmed } = pass;
  if (confirmed === null) return [exportWords.passOpen(of('open'))];
  const { pressed, impliedBy } = confirmed;
  const at = when({ at: tell.moment(pressed.pressedLocal), pressed });
  const by = impliedBy === null ? at : exportWords.passImplied({ when: at, by: impliedBy.title });
  const [given, left] = [of('confirmed'), of('left-out')];
  return [
    given.length === 0
      ? exportWords.passConfirmedNone(by)
      : exportWords.passConfirmed({ when: by, places: given }),
    ...(left.length === 0 ? [] : [exportWords.passLeftOut(left)]),
  ];
}

/** One pass of light: when it was begun, stopped and gone on with, and who confirmed what of it. */
export function passWords(pass: PassFact, tell: Telling): string {
  const turns = pass.turns.map((turn) => turnWords(turn, tell));
  return exportWords.passOf({ title: pass.title, turns: [...turns, ...endWords(pass, tell)] });
}

/** Whether tones were heard, then each pass that they led through. */
export function passLines({ passes, tones }: RecordFacts, tell: Telling): string[] {
  const heard = tones.map(({ heard: isHeard, pressed }) => {
    const at = when({ at: tell.moment(pressed.pressedLocal), pressed });
    return isHeard ? exportWords.tonesHeard(at) : exportWords.tonesNotHeard(at);
  });
  return [...heard, ...passes.map((pass) => passWords(pass, tell))];
}
