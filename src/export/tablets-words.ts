/** The tablets of a case, and a second end, in lines of the record. */
import { tabletWords, penRecordWords as words } from '../words/pen-record-words.ts';
import { pressedWords, type Telling, told } from './export-words.ts';
import type { SecondEndFact, TabletPartFact } from './record-tablets-types.ts';
import type { PressFact, RecordFacts } from './record-types.ts';

const byOf = ({ by }: PressFact): string => by ?? words.theApp;

/** How a moment of a record is told: as a line of text, or on the page. */
type Tell = (pressed: PressFact) => string;

function takenWords(part: TabletPartFact, before: TabletPartFact | undefined, tell: Tell) {
  if (part.taken === null) return null;
  const { from, pressed, fromName } = part.taken;
  const name = fromName === '' ? (before?.name ?? null) : fromName;
  return words.taken[from]({
    fromName: tabletWords({ tablet: before?.tablet ?? null, name }),
    at: tell(pressed),
    by: byOf(pressed),
  });
}

function givenWords({ given }: TabletPartFact, tell: Tell): string | null {
  if (given === null) return null;
  const { to, toName, pressed } = given;
  const whom = to === null ? words.whoever : tabletWords({ tablet: to, name: toName });
  return words.given({ to: whom, at: tell(pressed), by: byOf(pressed) });
}

/** One line for each tablet in a row: what it pressed, how it came by the case, to whom it gave it up. */
export function tabletLines({ tablets = [] }: Pick<RecordFacts, 'tablets'>, tell: Tell): string[] {
  return tablets.map((part, n) => {
    const { fromPress: from, toPress: to, taken } = part;
    return told([
      words.part({ name: tabletWords(part), from, to }),
      takenWords(part, tablets[n - 1], tell),
      taken?.reason ? words.reason(taken.reason) : null,
      givenWords(part, tell),
    ]);
  });
}

/** That a second end is kept apart, and which of the two goes on. */
export function secondEndHead(end: SecondEndFact, tell: Tell): string[] {
  const name = tabletWords(end);
  const { presses, entries, common, standing, since } = end;
  return [
    words.secondEnd({ name, presses, common }),
    words.extent({ entries, since: tell(since) }),
    words.standing[standing],
  ];
}

/** What was pressed in a second end, press by press. */
export function secondEndLines({ pressed }: SecondEndFact, tell: Tell): string[] {
  return pressed.map((press) =>
    words.pressed({ at: tell(press), by: byOf(press), what: pressedWords(press.was) }),
  );
}

/** The same as lines of the text form. */
export function tabletSections(
  facts: RecordFacts,
  telling: Telling,
): { readonly title: string; readonly lines: readonly string[] }[] {
  const tell: Tell = ({ pressedLocal }) => telling.moment(pressedLocal);
  const ends = facts.secondEnds ?? [];
  return [
    { title: words.title, lines: tabletLines(facts, tell) },
    {
      title: words.secondEnds,
      lines: ends.flatMap((end) => [...secondEndHead(end, tell), ...secondEndLines(end, tell)]),
    },
  ];
}

/** The same of every second end as one note each, for forms that carry notes. */
export const secondEndNotes = (
  { secondEnds = [] }: Pick<RecordFacts, 'secondEnds'>,
  telling: Telling,
): string[] =>
  secondEnds.map((end) =>
    secondEndHead(end, ({ pressedLocal }) => telling.moment(pressedLocal)).join(' '),
  );
