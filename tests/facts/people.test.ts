/** The people of the clinic as two tablets tell of them, brought together by backups as a store brings them. */
import { describe, expect, it } from 'vitest';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { ClinicPeople } from '../../src/runtime/library/clinic-people.ts';
import type { ClinicPerson } from '../../src/runtime/library/people-facts.ts';
import { readConflicts } from '../../src/runtime/sharing/read-conflicts.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, factsOf, restoreInto, type Tablet, tabletOf } from './tablets.ts';

interface WithPeople extends Tablet {
  readonly people: ClinicPeople;
  readonly listed: () => Promise<readonly ClinicPerson[]>;
}

async function withPeople(id: string): Promise<WithPeople> {
  const tablet = await tabletOf(id);
  const { journal, epoch } = tablet;
  const nowWallMs = () => 1_780_000_000_000;
  const people = new ClinicPeople({ journal, epoch: () => epoch, tablet: () => id, nowWallMs });
  const listed = async () => {
    await people.refresh();
    return people.state.getState().people;
  };
  return { ...tablet, people, listed };
}

/** Each has everything of the other. */
async function meet(a: Tablet, b: Tablet): Promise<void> {
  await restoreInto(a, await backupOf(b));
  await restoreInto(b, await backupOf(a));
}

async function two(): Promise<readonly [WithPeople, WithPeople]> {
  return [await withPeople('a'), await withPeople('b')];
}

const ilves: ClinicPerson = { name: 'Dr Ilves', role: 'dentist' };
const mk: ClinicPerson = { name: 'MK', role: 'assistant' };

describe('somebody who is put on the list of one tablet', () => {
  it('is on that of another, and a backup of both holds what each says', async () => {
    const [a, b] = await two();
    must(await a.people.list(ilves));
    must(await b.people.list({ ...mk, name: ' MK ' }));
    await meet(a, b);
    expect(await a.listed()).toEqual([ilves, mk]);
    expect(await b.listed()).toEqual([ilves, mk]);
    expect(await factsOf(a)).toEqual(await factsOf(b));
  });

  it('is one person, however the dots stand, and is told once where both put them there', async () => {
    const [a, b] = await two();
    must(await a.people.list(mk));
    must(await b.people.list(mk));
    must(await a.people.list({ ...mk, name: 'M.K.' }));
    expect(await a.listed()).toEqual([{ ...mk, name: 'M.K.' }]);
    await meet(a, b);
    expect(await b.listed()).toHaveLength(1);
  });

  it('is not put there without a letter, nor with more letters than a name has', async () => {
    const [a] = await two();
    expect(await a.people.list({ ...mk, name: ' . ' })).toMatchObject({ error: { code: 'empty' } });
    expect(await a.people.list({ ...mk, name: 'x'.repeat(201) })).toMatchObject({
      error: { code: 'too-long' },
    });
    expect(await factsOf(a)).toEqual([]);
  });
});

describe('somebody who is taken off the list', () => {
  it('is off it on both, whichever tablet said so, and whatever a backup of before holds', async () => {
    const [a, b] = await two();
    must(await a.people.list(mk));
    await meet(a, b);
    const before = await backupOf(a);
    must(await b.people.takeOff(mk));
    await meet(a, b);
    expect(await a.listed()).toEqual([]);
    await restoreInto(a, before);
    await restoreInto(b, before);
    expect([await a.listed(), await b.listed()]).toEqual([[], []]);
  });

  it('stays where another tablet wrote of them without knowing, and comes back by a new word', async () => {
    const [a, b] = await two();
    must(await a.people.list(mk));
    await meet(a, b);
    must(await a.people.takeOff(mk));
    must(await b.people.list({ ...mk, role: 'lead' }));
    await meet(a, b);
    expect(await a.listed()).toEqual([{ ...mk, role: 'lead' }]);
    must(await a.people.takeOff(mk));
    await meet(a, b);
    expect(await b.listed()).toEqual([]);
    must(await b.people.list(mk));
    expect(await b.listed()).toEqual([mk]);
  });
});

describe('somebody whose role two tablets tell differently', () => {
  it('is shown with both until one of them is chosen', async () => {
    const [a, b] = await two();
    must(await a.people.list(mk));
    must(await b.people.list({ ...mk, role: 'dentist' }));
    await meet(a, b);
    const told = must(await readConflicts(a.journal));
    expect(told).toMatchObject([{ kind: 'person', id: 'mk', name: 'MK' }]);
    const [one] = told;
    const sides = one?.kind === 'person' ? one.sides : [];
    expect(sides.map(({ tablet, role }) => `${tablet} ${role}`).toSorted()).toEqual([
      'a assistant',
      'b dentist',
    ]);
    expect(must(await readConflicts(b.journal))).toEqual(told);
    must(await b.people.list(mk));
    await meet(a, b);
    expect(must(await readConflicts(a.journal))).toEqual([]);
    expect(await a.listed()).toEqual([mk]);
  });
});

it('what names a person under another item, or in a way of later versions, is kept and shown as nobody', async () => {
  const [a] = await two();
  must(await a.people.list(mk));
  const strange = { kind: 'person', after: [], tablet: 'b', by: null, atWallMs: 1 } as const;
  for (const [item, said] of [
    ['ilves', { type: 'listed', ...mk }],
    ['mk', { type: 'of-later-versions' }],
  ] as const) {
    must(await keepFact(a.journal, asFact({ ...strange, item, said }), a.epoch));
  }
  expect(await a.listed()).toEqual([mk]);
  expect(await factsOf(a)).toHaveLength(3);
});
