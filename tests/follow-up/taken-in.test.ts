/** What closed cases bonded gets into the follow-up, and what becomes of it when a case is deleted. */
import { describe, expect, it } from 'vitest';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import { CasesList } from '../../src/runtime/cases/cases-list.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import type { FollowUps } from '../../src/runtime/follow-up/follow-ups.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, factsOf, restoreInto } from '../facts/tablets.ts';
import { type Family, FamilyChair } from '../families/family-chair.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import {
  bonded,
  found,
  keepBonded,
  meet,
  TODAY_MS,
  visit,
  type WithFollowUps,
  withFollowUps,
} from './clinic.ts';

/** A closed case of a patient. */
function played(family: Family, units?: number): CaseLog {
  const chair = FamilyChair.of(family, units, 'as-shipped').toTheEnd();
  expect(chair.close()).toBeNull();
  return asPatient(chair);
}

/** What a chair holds, as the case of a patient. */
const asPatient = ({ log }: FamilyChair): CaseLog =>
  replay(
    log.records.map((recorded) => {
      const { event } = recorded;
      if (event.type !== 'case-opened') return recorded;
      return { ...recorded, event: { ...event, mode: 'patient' as const } };
    }),
  );

const VENEERS = played('veneers, universal', 1);

async function keepCase(
  { journal, epoch }: WithFollowUps,
  caseId: string,
  { records }: Pick<CaseLog, 'records'>,
) {
  for (const press of new Set(records.map((recorded) => recorded.press))) {
    const recorded = records.filter((each) => each.press === press);
    must(await journal.append({ caseId, epoch, recorded }));
  }
}

const titles = (followUps: FollowUps) =>
  followUps.state
    .getState()
    .list.map(({ caseId, bondedOn, units }) => [caseId, bondedOn, units.length]);

describe('cases that were closed before follow-up was kept', () => {
  it('are taken in once, what bonded nothing is looked at once, and every tablet writes the same', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    for (const tablet of [a, b]) {
      await keepCase(tablet, 'veneers', VENEERS);
      await keepCase(tablet, 'open', replay(VENEERS.records.slice(0, -1)));
      await keepCase(tablet, 'finishing', played('finishing'));
      must(await tablet.followUps.open());
      await tablet.followUps.takeInOlder();
    }
    expect(titles(a.followUps)).toEqual([['veneers', '2026-11-30', 1]]);
    expect(a.followUps.state.getState()).toMatchObject({ takingIn: null, notTakenIn: [] });
    expect(await factsOf(a)).toEqual(await factsOf(b));
    expect(await factsOf(a)).toHaveLength(1);
    await a.followUps.takeInOlder();
    expect(await factsOf(a)).toHaveLength(1);
    expect(must(await a.journal.documents.list('bonded-nothing'))).toMatchObject([
      { id: 'finishing' },
    ]);
  });

  it('wait while a case runs', async () => {
    const a = await withFollowUps('a');
    await keepCase(a, 'veneers', VENEERS);
    a.store.setState({ running: { log: { state: { closed: null } } } as never });
    must(await a.followUps.open());
    await a.followUps.takeInOlder();
    expect(titles(a.followUps)).toEqual([]);
    a.store.setState({ running: null });
    await a.followUps.takeInOlder();
    expect(titles(a.followUps)).toHaveLength(1);
  });
});

describe('the case on the chair', () => {
  it('is followed once it is signed, and not while its signature is taken back', async () => {
    const a = await withFollowUps('a');
    const caseId = 'veneers';
    const open = replay(VENEERS.records.slice(0, -1));
    must(await a.followUps.closingTurned({ caseId, log: VENEERS }));
    must(await a.followUps.closingTurned({ caseId, log: VENEERS }));
    expect(titles(a.followUps)).toHaveLength(1);
    must(await a.followUps.closingTurned({ caseId, log: open }));
    expect(titles(a.followUps)).toEqual([]);
    must(await a.followUps.closingTurned({ caseId, log: VENEERS }));
    expect(titles(a.followUps)).toHaveLength(1);
    expect(await factsOf(a)).toHaveLength(3);
    const anew = a.anew();
    must(await anew.open());
    expect(titles(anew)).toHaveLength(1);
  });
});

describe('a closing that turned without being noted', () => {
  const CASE = 'veneers';
  /** A case signed, its signature taken back, signed again, and with a later note. */
  const turned = (): readonly [CaseLog, CaseLog, CaseLog, CaseLog] => {
    const chair = FamilyChair.of('veneers, universal', 1, 'as-shipped').toTheEnd();
    expect(chair.close()).toBeNull();
    const first = asPatient(chair);
    chair.atMs += 5_000;
    expect(chair.do({ do: 'undo' })).toBeNull();
    const takenBack = asPatient(chair);
    chair.atMs += 60_000;
    expect(chair.close()).toBeNull();
    const second = asPatient(chair);
    chair.atMs += 60_000;
    expect(chair.do({ do: 'note', words: 'Rang on Monday' })).toBeNull();
    return [first, takenBack, second, asPatient(chair)];
  };

  /** Another start of the tablet, with everything looked at that is to be. */
  async function started(a: WithFollowUps): Promise<FollowUps> {
    const anew = a.anew();
    must(await anew.open());
    await anew.takeInOlder();
    return anew;
  }

  const grow = (a: WithFollowUps, from: CaseLog, to: CaseLog) =>
    keepCase(a, CASE, { records: to.records.slice(from.records.length) });

  /** How many records another start reads. */
  async function readsOf(a: WithFollowUps): Promise<number> {
    const read = a.journal.read.bind(a.journal);
    let reads = 0;
    a.journal.read = (caseId) => {
      reads += 1;
      return read(caseId);
    };
    await started(a);
    a.journal.read = read;
    return reads;
  }

  it('is looked at again at the next start: taken back, and signed again', async () => {
    const a = await withFollowUps('a');
    const [first, takenBack, second] = turned();
    await keepCase(a, CASE, first);
    expect(titles(await started(a))).toHaveLength(1);
    // The tablet died each time before it noted what the press means.
    await grow(a, first, takenBack);
    expect(titles(await started(a))).toEqual([]);
    await grow(a, takenBack, second);
    expect(titles(await started(a))).toHaveLength(1);
    const facts = await factsOf(a);
    expect(facts.map(({ said }) => (said as { what: string }).what).toSorted()).toEqual([
      'bonded',
      'bonded',
      'bonding-withdrawn',
    ]);
    // Looked at once: nothing more is written, and nothing is read for it.
    expect(await readsOf(a)).toBe(0);
    expect(await factsOf(a)).toHaveLength(3);
  });

  it('is not taken for one where only the fact of a later closing is here, and not its entries', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    const [first, takenBack, second] = turned();
    await keepCase(a, CASE, first);
    await started(a);
    await grow(a, first, takenBack);
    await started(a);
    await grow(a, takenBack, second);
    await started(a);
    await keepCase(b, CASE, takenBack);
    for (const fact of await factsOf(a)) must(await keepFact(b.journal, fact, b.epoch));
    expect(titles(await started(b))).toHaveLength(1);
    expect(await factsOf(b)).toHaveLength(3);
  });

  it('is none where the record only has a later note, and the record is read once for it', async () => {
    const a = await withFollowUps('a');
    const [, , second, noted] = turned();
    await keepCase(a, CASE, second);
    await started(a);
    await grow(a, second, noted);
    await started(a);
    expect(await factsOf(a)).toHaveLength(1);
    expect(must(await a.journal.documents.list('bonded-nothing'))).toMatchObject([{ id: CASE }]);
    expect(await readsOf(a)).toBe(0);
  });

  it('leaves what was said at that signature as it is, also where this version would say it differently', async () => {
    const a = await withFollowUps('a');
    const [, , second, noted] = turned();
    await keepCase(a, CASE, noted);
    const about = { kind: 'follow-up', item: CASE, said: bonded(), after: [], by: null } as const;
    const atWallMs = second.records.at(-1)?.stamp.wallMs ?? 0;
    must(await keepFact(a.journal, asFact({ ...about, tablet: '', atWallMs }), a.epoch));
    expect(titles(await started(a))).toEqual([[CASE, '2026-01-01', 3]]);
    expect(await factsOf(a)).toHaveLength(1);
    expect(await readsOf(a)).toBe(0);
  });

  it('follows what the record bonds since, and no longer what it does not', async () => {
    const a = await withFollowUps('a');
    await keepCase(a, CASE, VENEERS);
    await keepBonded(a, { caseId: CASE });
    const anew = await started(a);
    expect(titles(anew)).toEqual([[CASE, '2026-11-30', 1]]);
    expect(await factsOf(a)).toHaveLength(3);
    expect(await readsOf(a)).toBe(0);
  });
});

describe('a withdrawal that was lost', () => {
  it('leaves nothing of the record before: what is closed again is what stands', async () => {
    const a = await withFollowUps('a');
    const caseId = 'veneers';
    must(await a.followUps.closingTurned({ caseId, log: VENEERS }));
    // The tablet died as the signature was taken back; then the second unit was bonded.
    must(await a.followUps.closingTurned({ caseId, log: played('veneers, universal', 2) }));
    expect(titles(a.followUps)).toEqual([[caseId, '2026-11-30', 2]]);
    must(await a.followUps.closingTurned({ caseId, log: VENEERS }));
    expect(titles(a.followUps)).toEqual([[caseId, '2026-11-30', 1]]);
  });
});

describe('a case on whose tooth another one bonded', () => {
  it('is not asked for any more, and is again when that was withdrawn', async () => {
    const a = await withFollowUps('a');
    await keepBonded(a, { caseId: 'old', said: bonded({ bondedOn: '2024-01-01' }) });
    must(await a.followUps.open());
    const due = () => a.followUps.state.getState().due.map(({ caseId }) => caseId);
    expect(due()).toEqual(['old']);
    const { what: _, protocol: __, ...about } = bonded({ bondedOn: '2026-11-25' });
    const again = { ...about, patient: ` ${about.patient.toLowerCase()}`, seenFrom: '2026-11-25' };
    const caseId = must(await a.followUps.addEarlier({ bonding: again, by: null }));
    expect(due()).toEqual([]);
    must(await a.followUps.withdrawEarlier({ caseId, reason: 'another patient', by: null }));
    expect(due()).toEqual(['old']);
  });
});

describe('units from before the app', () => {
  it('are followed from their first sight, and are taken out again with a reason', async () => {
    const a = await withFollowUps('a');
    const { what: _, protocol: __, ...about } = { ...(await import('./clinic.ts')).bonded() };
    const bonding = { ...about, bondedOn: '2019-03-01', seenFrom: '2026-11-02' };
    const caseId = must(await a.followUps.addEarlier({ bonding, by: 'TK' }));
    expect(a.followUps.state.getState().list).toMatchObject([{ caseId, origin: 'earlier' }]);
    const late = { ...bonding, seenFrom: '2027-01-01' };
    expect(await a.followUps.addEarlier({ bonding: late, by: null })).toMatchObject({ ok: false });
    must(await a.followUps.withdrawEarlier({ caseId, reason: 'twice', by: null }));
    expect(a.followUps.state.getState().list).toEqual([]);
  });
});

describe('a case that is deleted', () => {
  async function exported(id: string) {
    const a = await withFollowUps(id);
    await keepCase(a, 'veneers', VENEERS);
    must(await a.followUps.open());
    await a.followUps.takeInOlder();
    const [unit] = a.followUps.state.getState().list[0]?.units ?? [];
    const seen = visit(
      '2026-12-01',
      found(unit?.unit ?? '', 'chipped', { statedDay: '2026-12-01' }),
    );
    must(
      await a.followUps.noteVisit({
        caseId: 'veneers',
        visit: { ...seen, note: 'Rang on Monday' },
        by: 'TK',
      }),
    );
    const list = new CasesList({
      journal: a.journal,
      epoch: () => a.epoch,
      crypto: null,
      clock: manualClock({ wallMs: TODAY_MS, monoMs: 0, runId: 'r' }),
      followUps: async () => a.followUps,
      onChanged: async () => undefined,
    });
    await list.refresh();
    const head = list.state.getState().facts[0]?.head ?? '';
    must(await list.markExported({ caseId: 'veneers', head, form: 'json' }));
    const remove = (lives: 'taken' | 'left') =>
      list.deleteCase({ caseId: 'veneers', by: 'AN', reason: 'asked for', lives });
    return { a, remove };
  }

  it('takes its lives along, for good: a backup of before brings nothing back', async () => {
    const { a, remove } = await exported('a');
    const before = await backupOf(a);
    must(await remove('taken'));
    expect(await factsOf(a)).toEqual([]);
    expect(a.followUps.state.getState().list).toEqual([]);
    await restoreInto(a, before);
    expect(await factsOf(a)).toEqual([]);
    const anew = a.anew();
    must(await anew.open());
    await anew.takeInOlder();
    expect(titles(anew)).toEqual([]);
    expect((await backupOf(a)).join('\n')).not.toContain('chipped');
  });

  it('or leaves them as counts, without a word that leads to the patient', async () => {
    const { a, remove } = await exported('a');
    const { chartRef, title, people } = VENEERS.state.opened.spec;
    must(await remove('left'));
    const [row] = a.followUps.state.getState().list;
    expect(row).toMatchObject({ origin: 'left', bondedOn: '2026-11-01', due: null });
    expect(row?.followUp.visits).toMatchObject([
      { visit: { onDay: '2026-11-02', examiner: '', units: [{ statedDay: '2026-11-02' }] } },
    ]);
    const left = JSON.stringify(await factsOf(a));
    for (const word of [
      chartRef,
      title,
      'Monday',
      'TK',
      ...people.map(({ label }) => `"${label}"`),
    ]) {
      expect(left).not.toContain(word);
    }
    expect(left).not.toContain('2026-11-30');
    expect(left).toContain('chipped');
  });

  it('goes from another tablet with its deletion, whichever comes first', async () => {
    const { a, remove } = await exported('a');
    const b = await withFollowUps('b');
    await meet(a, b);
    expect(await factsOf(b)).toHaveLength(2);
    must(await remove('taken'));
    const [tombstone] = must(await a.journal.listTombstones());
    if (tombstone === undefined) throw new Error('a mark');
    // On b the case is kept: a file deletes nothing there.
    await restoreInto(b, await backupOf(a));
    expect(await factsOf(b)).toHaveLength(2);
    const c = await withFollowUps('c');
    await keepBonded(c, { caseId: 'veneers' });
    await restoreInto(c, await backupOf(a));
    expect(await factsOf(c)).toEqual([]);
    await restoreInto(c, await backupOf(b));
    expect(await factsOf(c)).toEqual([]);
  });
});
