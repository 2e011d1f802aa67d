/** What two tablets tell differently, brought together as a store brings it; and that a choice ends it. */
import { describe, expect, it } from 'vitest';
import twoVeneers from '../../demo-data/cases/two-veneers.json' with { type: 'json' };
import type { UnitFound, Visit } from '../../src/outcomes/follow-up-types.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { saveCase } from '../../src/runtime/library/library.ts';
import type { Conflict } from '../../src/runtime/sharing/conflicts.ts';
import { readConflicts } from '../../src/runtime/sharing/read-conflicts.ts';
import { must } from '../backup/filled-journal.ts';
import {
  backupOf,
  factsOf,
  gel,
  lotOf,
  restoreInto,
  type Tablet,
  tabletOf,
} from '../facts/tablets.ts';
import { bonded, found, keepBonded, TODAY_MS, visit, withFollowUps } from '../follow-up/clinic.ts';
import { template } from '../lead/lead-support.ts';
import { etchingGelSheet } from '../protocol/sheet-support.ts';

const told = async ({ journal }: Tablet): Promise<readonly Conflict[]> =>
  must(await readConflicts(journal));

/** Each has everything of the other. */
async function meet(a: Tablet, b: Tablet): Promise<void> {
  await restoreInto(a, await backupOf(b));
  await restoreInto(b, await backupOf(a));
}

async function two(): Promise<readonly [Tablet, Tablet]> {
  const a = await tabletOf('a', { clock: () => 1000 });
  const b = await tabletOf('b', { clock: () => 2000 });
  must(await a.stock.receive(gel));
  await meet(a, b);
  return [a, b];
}

const partsOf = ({ id, journal, epoch }: Tablet) => ({
  journal,
  epoch: () => epoch,
  tablet: () => id,
  nowWallMs: () => 3000,
});

async function correct(tablet: Tablet, change: Partial<typeof gel> & { expiry?: string }) {
  const before = lotOf(tablet);
  if (before === undefined) throw new Error('no lot');
  must(await tablet.stock.correct(tablet.stock.opened(before), { ...before, ...change }));
}

describe('a box whose fields two tablets wrote', () => {
  it('is told field by field, with who said what where and when', async () => {
    const [a, b] = await two();
    b.stock.setBy('M');
    await correct(a, { expiry: '2027-03-31', label: 'Gel A' });
    await correct(b, { expiry: '2028-03-31', label: 'Gel B' });
    expect(await told(a)).toEqual([]);
    await meet(a, b);
    const sides = (own: string, other: string) => [
      { tablet: 'a', by: null, atWallMs: 1000, value: own },
      { tablet: 'b', by: 'M', atWallMs: 2000, value: other },
    ];
    const box = { kind: 'material', id: 'gel', label: 'Gel B', lot: gel.lot };
    expect(await told(a)).toEqual([
      { ...box, field: 'expiry', sides: sides('2027-03-31', '2028-03-31') },
      { ...box, field: 'label', sides: sides('Gel A', 'Gel B') },
    ]);
    expect(await told(b)).toEqual(await told(a));
  });

  it('is settled for the field that was chosen about, and for no other', async () => {
    const [a, b] = await two();
    await correct(a, { expiry: '2027-03-31', label: 'Gel A' });
    await correct(b, { expiry: '2028-03-31', label: 'Gel B' });
    await meet(a, b);
    must(await a.stock.settle('gel', { field: 'expiry', value: '2028-03-31' }));
    expect((await told(a)).map((one) => one.kind === 'material' && one.field)).toEqual(['label']);
    await meet(a, b);
    expect(await told(b)).toEqual(await told(a));
    expect(lotOf(b)?.expiry).toBe('2028-03-31');
    must(await b.stock.settle('gel', { field: 'label', value: 'Gel A' }));
    await meet(a, b);
    expect(await told(a)).toEqual([]);
    expect(lotOf(a)).toMatchObject({ label: 'Gel A', expiry: '2028-03-31' });
    // The choice knew of every word before it.
    const last = (await factsOf(a)).filter(({ kind }) => kind === 'material');
    expect(last).toHaveLength(5);
  });

  it('may be settled by taking the field away, and on the days that are facts of their own', async () => {
    const [a, b] = await two();
    must(await a.stock.openedOn('gel', '2026-11-01'));
    must(await b.stock.openedOn('gel', '2026-11-09'));
    await correct(b, { note: 'top shelf' } as Partial<typeof gel>);
    await correct(a, { note: 'left' } as Partial<typeof gel>);
    await meet(a, b);
    expect(await told(a)).toHaveLength(2);
    must(await a.stock.settle('gel', { field: 'openedOn', value: '2026-11-01' }));
    must(await a.stock.settle('gel', { field: 'note', value: null }));
    await meet(a, b);
    expect(await told(b)).toEqual([]);
    expect(lotOf(b)).toMatchObject({ openedOn: '2026-11-01' });
    expect(lotOf(b)?.note).toBeUndefined();
  });

  it('asks for nothing once it is struck or used up', async () => {
    const [a, b] = await two();
    await correct(a, { expiry: '2027-03-31' });
    await correct(b, { expiry: '2028-03-31' });
    await meet(a, b);
    must(await a.stock.usedUp('gel'));
    expect(await told(a)).toEqual([]);
    expect(await told(b)).toHaveLength(1);
    must(await b.stock.removeMaterial('gel'));
    expect(await told(b)).toEqual([]);
  });
});

function caseFile(): CaseFile {
  const parsed = parseCase(twoVeneers);
  if (!parsed.ok) throw new Error('the case of the demonstration cannot be read');
  return parsed.value;
}

describe('a case that two tablets prepared', () => {
  it('is told with both, and with the allergies of both; keeping one ends it everywhere', async () => {
    const [a, b] = await two();
    const { allergies: _, ...spec } = caseFile();
    must(await saveCase(partsOf(a), { ...spec, allergies: 'Latex' }));
    must(await saveCase(partsOf(b), { ...spec, title: 'Moved', allergies: 'Nickel' }));
    await meet(a, b);
    const [one, ...more] = await told(a);
    expect(more).toEqual([]);
    if (one?.kind !== 'prepared-case') throw new Error('not told');
    expect(one.sides.map(({ tablet, spec: said }) => [tablet, said.allergies]).toSorted()).toEqual([
      ['a', 'Latex'],
      ['b', 'Nickel'],
    ]);
    expect(one.shown.allergies?.split('; ').toSorted()).toEqual(['Latex', 'Nickel']);
    const moved = one.sides.find(({ spec: said }) => said.title === 'Moved');
    if (moved === undefined) throw new Error('no side of that title');
    must(await saveCase(partsOf(b), { ...moved.spec, allergies: one.shown.allergies ?? '' }));
    expect(await told(b)).toEqual([]);
    await meet(a, b);
    expect(await told(a)).toEqual([]);
  });
});

describe('protocols and sheets', () => {
  const protocol = template();
  const written = (tablet: string, title: string) =>
    asFact({
      kind: 'protocol',
      item: protocol.id,
      said: { type: 'written', protocol: { ...protocol, revision: 4, title } },
      after: [],
      tablet,
      by: 'Dr I',
      atWallMs: 1,
    });

  it('are told where two confirmed revisions have one number, until one is retired', async () => {
    const a = await tabletOf('a');
    const { journal, epoch } = a;
    for (const [tablet, title] of [
      ['x', 'One way'],
      ['y', 'Other way'],
    ] as const) {
      const fact = written(tablet, title);
      const hash = protocolHash({ ...protocol, revision: 4, title });
      must(await keepFact(journal, fact, epoch));
      const said = { type: 'confirmed', hash, by: 'Dr I', onWallMs: 7 };
      const item = protocol.id;
      must(
        await keepFact(
          journal,
          asFact({
            kind: 'protocol',
            item,
            said,
            after: [fact.id],
            tablet,
            by: 'Dr I',
            atWallMs: 7,
          }),
          epoch,
        ),
      );
    }
    const [one, ...more] = await told(a);
    expect(more).toEqual([]);
    if (one?.kind !== 'protocol') throw new Error('not told');
    expect(one.revision).toBe(4);
    expect(one.sides.map(({ tablet, by, atWallMs }) => [tablet, by, atWallMs]).toSorted()).toEqual([
      ['x', 'Dr I', 7],
      ['y', 'Dr I', 7],
    ]);
    const said = {
      type: 'retired',
      hash: one.sides[0]?.hash,
      by: 'Dr I',
      onWallMs: 9,
      reason: 'twice',
    };
    must(
      await keepFact(
        journal,
        asFact({
          kind: 'protocol',
          item: protocol.id,
          said,
          after: [],
          tablet: 'a',
          by: null,
          atWallMs: 9,
        }),
        epoch,
      ),
    );
    expect(await told(a)).toEqual([]);
  });

  it('are told where two tablets wrote one sheet, until somebody who knew both writes it again', async () => {
    const a = await tabletOf('a');
    const sheet = etchingGelSheet();
    const fact = (tablet: string, revision: string, after: readonly string[] = []) =>
      asFact({
        kind: 'sheet',
        item: sheet.id,
        said: { type: 'written', sheet: { ...sheet, revision } },
        after,
        tablet,
        by: 'Dr I',
        atWallMs: 5,
      });
    const sides = [fact('x', '2026-11'), fact('y', '2026-12')] as const;
    for (const side of sides) must(await keepFact(a.journal, side, a.epoch));
    const [one, ...more] = await told(a);
    expect(more).toEqual([]);
    if (one?.kind !== 'sheet') throw new Error('not told');
    expect(one.sides.map(({ tablet, revision }) => [tablet, revision]).toSorted()).toEqual([
      ['x', '2026-11'],
      ['y', '2026-12'],
    ]);
    const known = sides.map(({ id }) => id).toSorted();
    must(await keepFact(a.journal, fact('a', '2026-12', known), a.epoch));
    expect(await told(a)).toEqual([]);
  });
});

describe('what became of the cases', () => {
  it('is told where two tablets noted visits that cannot all be so, and no other case is read for it', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    for (const caseId of ['case-1', 'case-2', 'case-3']) {
      await keepBonded(a, { caseId, said: bonded({ patient: `C-${caseId}` }) });
    }
    await meet(a, b);
    const note = async (tablet: typeof a, caseId: string, of: Visit) =>
      must(await tablet.followUps.noteVisit({ caseId, visit: of, by: tablet.id }));
    await note(a, 'case-1', visit('2026-06-01', found('11', 'in-place')));
    await note(b, 'case-1', visit('2026-06-01', found('11', 'chipped')));
    await note(a, 'case-2', visit('2026-07-01', found('21', 'in-place')));
    await note(b, 'case-2', visit('2026-06-01', found('21', 'replaced-other')));
    await note(a, 'case-3', visit('2026-06-01', found('11', 'in-place')));
    await note(b, 'case-3', visit('2026-07-01', found('11', 'chipped')));
    expect(await told(a)).toEqual([]);
    await meet(a, b);
    const side = (tablet: string, onDay: string, of: UnitFound) => ({
      tablet,
      by: tablet,
      atWallMs: TODAY_MS,
      onDay,
      found: of,
    });
    const all = await told(a);
    expect(all).toEqual(await told(b));
    expect(all).toMatchObject([
      { kind: 'visits', id: 'case-1', of: 'same-day', unit: '11' },
      {
        kind: 'visits',
        id: 'case-2',
        of: 'after-gone',
        unit: '21',
        sides: [
          side('b', '2026-06-01', found('21', 'replaced-other')),
          side('a', '2026-07-01', found('21', 'in-place')),
        ],
      },
    ]);
    const [first] = all;
    expect(first?.sides).toHaveLength(2);
    expect(first?.sides).toEqual(
      expect.arrayContaining([
        side('a', '2026-06-01', found('11', 'in-place')),
        side('b', '2026-06-01', found('11', 'chipped')),
      ]),
    );
  });

  it('is told where two tablets fixed different questions, until one that knew both is fixed', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    const question = { endPoint: 'success', limits: [], accepted: { success: 0.08 } } as const;
    const other = { ...question, accepted: { success: 0.05 } };
    must(await a.followUps.fixQuestion({ question, by: 'Lead' }));
    must(await b.followUps.fixQuestion({ question: other, by: null }));
    expect(await told(a)).toEqual([]);
    await meet(a, b);
    const [one, ...more] = await told(a);
    expect(more).toEqual([]);
    if (one?.kind !== 'question') throw new Error('not told');
    const sides = one.sides.toSorted((x, y) => (x.tablet < y.tablet ? -1 : 1));
    const onDay = '2026-12-01';
    expect(sides).toEqual([
      { tablet: 'a', by: 'Lead', atWallMs: TODAY_MS, question: { ...question, onDay } },
      { tablet: 'b', by: null, atWallMs: TODAY_MS, question: { ...other, onDay } },
    ]);
    const anew = a.anew();
    must(await anew.fixQuestion({ question: other, by: 'Lead' }));
    expect(await told(a)).toEqual([]);
  });
});
