/** Entries of a tablet that did not hold the pen of a case, and two tablets that took it at one place. */
import { afterEach, describe, expect, it } from 'vitest';
import type { CaseEvent, Recorded } from '../../src/engine/types.ts';
import { goingOn, type KeptEnd, readSecondEnds } from '../../src/runtime/cases/second-ends.ts';
import { must } from '../backup/filled-journal.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { stampAt } from '../storage/sample-case.ts';
import {
  type Clinic,
  clinic,
  paired,
  patientOpening,
  settled,
  TestTablet,
  until,
} from './clinic.ts';

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

const NAMES = ['a', 'b', 'c'] as const;

/** A tablet that has heard of all before, so that it knows under which id each writes. */
async function tablet(of: Clinic, name: string): Promise<TestTablet> {
  const parts = await paired(of, name);
  const journal = createMemoryJournal(parts.device);
  const { epoch } = must(await journal.startWriting());
  for (const id of NAMES) {
    const document = { kind: 'tablet-writes-as', id, value: `writes-${id}`, epoch };
    must(await journal.documents.put(document));
  }
  await journal.close();
  const made = await new TestTablet(of, parts).on();
  tablets.push(made);
  return made;
}

async function three() {
  const of = await clinic();
  const a = await tablet(of, 'a');
  return { of, a, b: await tablet(of, 'b'), c: await tablet(of, 'c') };
}

const note = (words: string): CaseEvent => ({ type: 'note-added', words });
const gone = (name: string): CaseEvent => ({
  type: 'pen-taken',
  tablet: `writes-${name}`,
  name,
  fromName: 'a',
  from: 'gone',
  reason: 'silent',
});

/** Stores something in the journal of a tablet, as its app would; what may be said there is not asked. */
async function stores({ journal, epoch }: TestTablet, ...events: readonly CaseEvent[]) {
  const { length } = must(await journal.read('case-1')).entries;
  const recorded = events.map((event, n): Recorded => {
    const seq = length + n;
    return { seq, press: seq, stamp: stampAt(seq * 1000), by: 'p1', event };
  });
  must(await journal.append({ caseId: 'case-1', epoch, recorded }));
}

async function opens(of: TestTablet, writes = `writes-${of.name}`): Promise<void> {
  const { journal, epoch } = of;
  const first = patientOpening('case-1');
  const opening = { ...first, event: { ...first.event, tablet: writes } };
  must(await journal.append({ caseId: 'case-1', epoch, recorded: [opening] }));
}

async function endsOn(of: TestTablet): Promise<readonly KeptEnd[]> {
  await of.engine.lookAgain();
  return must(await readSecondEnds(of.journal, 'case-1'));
}

const notesIn = (end: KeptEnd | undefined): readonly unknown[] =>
  (end?.entries ?? []).map(({ event }) => (event.type === 'note-added' ? event.words : event.type));

describe('an entry of a tablet that did not hold the pen', () => {
  it('is kept as a second end that says so, and the case goes on where the pen is', async () => {
    const { of, a, b, c } = await three();
    await opens(a);
    await settled(of.hub, tablets);
    await stores(b, note('without the pen'));
    await settled(of.hub, tablets);
    for (const other of [a, c]) {
      expect(await other.entries('case-1'), other.name).toHaveLength(1);
      const [end, ...more] = await endsOn(other);
      expect(more).toEqual([]);
      expect(end).toMatchObject({ tablet: 'b', name: 'Chair b', withoutPen: true });
      expect(notesIn(end)).toEqual(['without the pen']);
    }
    expect(c.engine.forks).toMatchObject([
      { at: 1, ends: [{}, { device: 'b', withoutPen: true }] },
    ]);
    await stores(a, note('with the pen'));
    await settled(of.hub, tablets);
    expect(await c.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(await c.entries('case-1')).toHaveLength(2);
    expect(await endsOn(c)).toMatchObject([{ tablet: 'b', withoutPen: true }]);
    // The tablet that pressed it is told of the other end.
    expect(await endsOn(b)).toMatchObject([{ tablet: 'a' }]);
  });

  it('is said again by the tablet that had the pen, where others handed it on first', async () => {
    const of = await clinic();
    const empty = of.hub.disk();
    const a = await tablet(of, 'a');
    const b = await tablet(of, 'b');
    await opens(a);
    await stores(a, note('one'), note('two'));
    await settled(of.hub, tablets);
    of.hub.cut('a');
    of.hub.rollBack(empty);
    b.engine.now();
    await until(() => of.hub.messages('J').length > 0, 'what b hands on');
    of.hub.mend('a');
    await settled(of.hub, tablets);
    const c = await tablet(of, 'c');
    await settled(of.hub, tablets);
    expect(await a.entries('case-1')).toHaveLength(3);
    expect(await c.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(c.engine.forks).toEqual([]);
  });

  it('is one too behind a pen that was given up, until the other has taken it', async () => {
    const { of, a, b, c } = await three();
    await opens(a);
    const given = { type: 'pen-given', tablet: 'writes-a', name: 'a' } as const;
    await stores(a, { ...given, to: 'writes-b', toName: 'b' }, note('pressed on'));
    await settled(of.hub, tablets);
    expect(await c.entries('case-1')).toHaveLength(2);
    expect(await endsOn(c)).toMatchObject([{ tablet: 'a', withoutPen: true }]);
    const taken = { type: 'pen-taken', tablet: 'writes-b', name: 'b', fromName: 'a' } as const;
    await stores(b, { ...taken, from: 'given' }, note('taken'));
    await settled(of.hub, tablets);
    expect(await c.entries('case-1')).toEqual(await b.entries('case-1'));
    expect(await c.entries('case-1')).toHaveLength(4);
  });

  it('does not go on by saying that it was given what was not', async () => {
    const { of, a, b, c } = await three();
    await opens(a);
    await settled(of.hub, tablets);
    const taken = { type: 'pen-taken', tablet: 'writes-b', name: 'b', fromName: 'a' } as const;
    await stores(b, { ...taken, from: 'given' });
    await settled(of.hub, tablets);
    const kept = await endsOn(c);
    expect(kept).toMatchObject([{ tablet: 'b', withoutPen: true }]);
    const reading = must(await c.journal.read('case-1'));
    expect(goingOn(reading, kept).reading.entries).toHaveLength(1);
  });

  it('follows after all once the tablet that held the pen gives the same', async () => {
    const { of, a, b, c } = await three();
    await opens(a);
    await settled(of.hub, tablets);
    of.hub.cut('a');
    await stores(a, note('pressed without a line'));
    // A file brought it to another tablet, which hands it on.
    const { entries } = must(await a.journal.read('case-1'));
    must(await b.journal.adopt({ caseId: 'case-1', epoch: b.epoch, entries }));
    b.engine.now();
    await settled(of.hub, [b, c]);
    expect(await endsOn(c)).toMatchObject([{ tablet: 'b', withoutPen: true }]);
    of.hub.mend('a');
    await settled(of.hub, tablets);
    expect(await c.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(await endsOn(c)).toEqual([]);
    expect(c.engine.forks).toEqual([]);
  });
});

describe('a case is taken as it comes', () => {
  it('that names no tablet, or one that nobody of the clinic is known to be', async () => {
    const { of, a, b, c } = await three();
    await a.press('older');
    await opens(b, 'writes-of-no-one');
    await settled(of.hub, tablets);
    await b.press('older');
    await stores(a, note('went on'));
    await settled(of.hub, tablets);
    expect(await c.entries('older')).toHaveLength(2);
    expect(await c.entries('case-1')).toHaveLength(2);
    expect(await endsOn(c)).toEqual([]);
  });
});

it('a pen that two tablets take at one place is two ends at once on every tablet, and one of them goes on everywhere', async () => {
  const { of, a, b, c } = await three();
  await opens(a);
  await settled(of.hub, tablets);
  for (const name of ['b', 'c']) of.hub.cut(name);
  await stores(b, gone('b'), note('on b'));
  await stores(c, gone('c'), note('on c'));
  for (const name of ['b', 'c']) of.hub.mend(name);
  await settled(of.hub, tablets);
  const heads = new Set<string | undefined>();
  for (const each of [a, b, c]) {
    const kept = await endsOn(each);
    expect(kept, each.name).toHaveLength(1);
    expect(kept[0]?.withoutPen, each.name).toBeUndefined();
    expect(each.engine.forks, each.name).toMatchObject([{ at: 1, ends: [{}, {}] }]);
    const on = goingOn(must(await each.journal.read('case-1')), kept);
    expect(on.secondEnds, each.name).toHaveLength(1);
    heads.add(on.reading.entries.at(-1)?.hash);
  }
  expect(heads.size).toBe(1);
});
