/** Works out which tablet pressed what, and tells what was pressed beside it. */
import { namedBy } from '../engine/event-subjects.ts';
import type { Recorded } from '../engine/types.ts';
import { zonedIso } from '../words/zone.ts';
import type { SecondEnd } from './export-source.ts';
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

function secondEndFact(frame: RecordFrame, { tablet, name, entries }: SecondEnd): SecondEndFact {
  const common = entries[0]?.seq ?? 0;
  const isTaken = frame.source.log.records[common]?.event.type === 'pen-taken';
  const numbers = [...new Set(entries.map((e) => e.press))];
  return {
    tablet,
    name,
    common,
    presses: numbers.length,
    standing: isTaken ? 'left' : 'unclear',
    pressed: numbers.flatMap((press) => {
      const own = entries.filter((e) => e.press === press);
      const [first] = own;
      if (first === undefined) return [];
      const was = own.map(({ event }) => ({
        type: event.type,
        ...namedBy(event),
        how: howPressed(event),
      }));
      return [{ ...pressFact(frame, first), was }];
    }),
  };
}

/** Presses of second ends; null where there is none. */
export function keptApart({ secondEnds }: TabletFacts): number | null {
  if (secondEnds === undefined) return null;
  return secondEnds.reduce((sum, { presses }) => sum + presses, 0);
}

export function tabletFacts(frame: RecordFrame): TabletFacts {
  const parts = partFacts(frame);
  const isOne = parts.length === 1 && parts.every(({ given }) => given === null);
  const ends = (frame.source.secondEnds ?? []).filter(({ entries }) => entries.length > 0);
  return {
    ...(isOne ? {} : { tablets: parts }),
    ...(ends.length === 0 ? {} : { secondEnds: ends.map((end) => secondEndFact(frame, end)) }),
  };
}
