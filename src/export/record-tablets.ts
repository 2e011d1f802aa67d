/** Works out which tablet pressed what, and tells what was pressed beside it. */
import { namedBy } from '../engine/event-subjects.ts';
import type { Recorded } from '../engine/types.ts';
import { tabletWords } from '../words/pen-record-words.ts';
import { zonedIso } from '../words/zone.ts';
import type { Column } from './csv.ts';
import type { ExportEntry, SecondEnd } from './export-source.ts';
import { howPressed } from './press-log.ts';
import type { RecordFrame } from './record-frame.ts';
import type { PressFact } from './record-instant-types.ts';
import type { SecondEndFact, TabletFacts, TabletPartFact } from './record-tablets-types.ts';
import { utc } from './utc.ts';

/** Names of tablets as the log says them. */
function namesIn(records: readonly Recorded[], opener: string | null): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  let holder = opener;
  const say = (tablet: string | null, name: string): void => {
    if (tablet !== null && name !== '') names.set(tablet, name);
  };
  for (const { event } of records) {
    if (event.type === 'pen-given') {
      say(event.tablet, event.name);
      say(event.to, event.toName);
    } else if (event.type === 'pen-taken') {
      say(holder, event.fromName);
      say(event.tablet, event.name);
      holder = event.tablet;
    }
  }
  return names;
}

function partFacts(frame: RecordFrame): TabletPartFact[] {
  const { records } = frame.source.log;
  const { presses } = frame;
  const opener = frame.state.opened.tablet ?? null;
  const names = namesIn(records, opener);
  const nameOf = (tablet: string | null): string | null =>
    tablet === null ? null : (names.get(tablet) ?? null);
  let part: TabletPartFact = {
    tablet: opener,
    name: nameOf(opener),
    fromPress: 0,
    toPress: 0,
    taken: null,
    given: null,
  };
  const parts: TabletPartFact[] = [];
  for (const { event, press } of records) {
    if (event.type === 'pen-taken') {
      const { tablet, name, from, fromName, reason = null } = event;
      parts.push(part);
      const taken = { from, fromName, reason, pressed: presses.pressed(press) };
      part = { tablet, name, fromPress: press, toPress: press, taken, given: null };
    } else if (event.type === 'pen-given') {
      const { to, toName } = event;
      part = { ...part, toPress: press, given: { to, toName, pressed: presses.pressed(press) } };
    } else part = { ...part, toPress: press };
  }
  return [...parts, part];
}

function pressFact(frame: RecordFrame, { press, stamp, by }: Recorded): PressFact {
  const { people } = frame.spec;
  return {
    press,
    pressedUtc: utc(stamp.wallMs),
    pressedLocal: zonedIso(stamp.wallMs, frame.zone.name),
    movedByMs: 0,
    by: people.find((p) => p.id === by)?.label ?? by,
  };
}

function secondEndFact(
  frame: RecordFrame,
  { end, first }: { readonly end: SecondEnd; readonly first: ExportEntry },
): SecondEndFact {
  const { tablet, name, entries, withoutPen } = end;
  const common = first.seq;
  const isTaken = frame.source.log.records[common]?.event.type === 'pen-taken';
  const numbers = [...new Set(entries.map((e) => e.press))];
  return {
    tablet,
    name,
    common,
    presses: numbers.length,
    entries: entries.length,
    since: pressFact(frame, first),
    standing: withoutPen ? 'without-pen' : isTaken ? 'left' : 'unclear',
    pressed: numbers.flatMap((press) => {
      const own = entries.filter((e) => e.press === press);
      const [begins] = own;
      if (begins === undefined) return [];
      const was = own.map(({ event }) => ({
        type: event.type,
        ...namedBy(event),
        how: howPressed(event),
      }));
      return [{ ...pressFact(frame, begins), was }];
    }),
  };
}

/** Presses of second ends; null where there is none. */
function keptApart({ secondEnds }: TabletFacts): number | null {
  if (secondEnds === undefined) return null;
  return secondEnds.reduce((sum, { presses }) => sum + presses, 0);
}

/** Each second end by one of its sides, in the order of the record; null where there is none. */
const eachEnd = ({ secondEnds }: TabletFacts, of: (end: SecondEndFact) => string): string | null =>
  secondEnds === undefined ? null : secondEnds.map(of).join('; ');

/** What a table says of second ends in each row; behind all other columns. */
export const secondEndColumns: readonly Column<{ readonly facts: TabletFacts }>[] = [
  { name: 'presses_kept_apart', of: ({ facts }) => keptApart(facts) },
  { name: 'second_end_tablets', of: ({ facts }) => eachEnd(facts, tabletWords) },
  { name: 'second_end_entries', of: ({ facts }) => eachEnd(facts, (e) => `${e.entries}`) },
  { name: 'second_end_since_utc', of: ({ facts }) => eachEnd(facts, (e) => e.since.pressedUtc) },
  {
    name: 'second_end_since_local',
    of: ({ facts }) => eachEnd(facts, (e) => e.since.pressedLocal),
  },
];

export function tabletFacts(frame: RecordFrame): TabletFacts {
  const parts = partFacts(frame);
  const isOne = parts.length === 1 && parts.every(({ given }) => given === null);
  const ends = (frame.source.secondEnds ?? []).flatMap((end) => {
    const [first] = end.entries;
    return first === undefined ? [] : [secondEndFact(frame, { end, first })];
  });
  return {
    ...(isOne ? {} : { tablets: parts }),
    ...(ends.length === 0 ? {} : { secondEnds: ends }),
  };
}
