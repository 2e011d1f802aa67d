/** Revisions of two tablets, brought together: told apart by their hash, in force only by the lead here. */
import { describe, expect, it } from 'vitest';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { FactMerger } from '../../src/runtime/backup/merge-facts.ts';
import { asFact, documentOf } from '../../src/runtime/facts/fact.ts';
import { readThisTablet } from '../../src/runtime/facts/this-tablet.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { appendLeadLog, readLeadLogs } from '../../src/runtime/lead/lead-log.ts';
import {
  currentRevision,
  readRevisions,
  sayOfProtocol,
} from '../../src/runtime/lead/lead-revisions.ts';
import { must } from '../backup/filled-journal.ts';
import {
  instruction,
  openDesk,
  PASSPHRASE,
  type TestDesk,
  template,
} from '../lead/lead-support.ts';
import { factsOf } from './tablets.ts';

const ID = template().id;

async function deskOf(person: string): Promise<TestDesk> {
  const test = await openDesk();
  must(await test.desk.setPassphrase({ person, passphrase: PASSPHRASE }));
  return test;
}

/** Confirms the shipped template with another etch target. */
async function confirmEtch({ desk }: TestDesk, targetMs: number): Promise<string> {
  const draftId = must(await desk.beginDraft(template()));
  const draft = desk.state.getState().drafts.find(({ id }) => id === draftId);
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const figure = { value: targetMs, basis: instruction };
  const edited = must(addEdit(draft.history, { do: 'set-figure', spot, figure }));
  const spots = figuresOf(edited.protocol).flatMap((f) => (f.binds ? [f.spot] : []));
  const all = must(addEdit(edited, { do: 'set-basis', spots, basis: instruction }));
  must(await desk.saveDraft(draftId, all));
  return must(await desk.confirm(draftId)).hash;
}

/** Takes over everything that another tablet says, as a restored backup does. */
async function merge(here: TestDesk, there: TestDesk): Promise<void> {
  const { journal, epoch } = here;
  const documents = must(await journal.documents.listAll());
  const theirs = must(await readThisTablet(there.journal));
  const merger = new FactMerger({ journal, epoch, tablet: theirs.tablet, marks: theirs });
  must(await merger.begin(documents));
  for (const fact of await factsOf(there)) must(await merger.take(fact));
  await here.desk.refresh();
}

const inForce = async ({ journal }: TestDesk): Promise<string | null> =>
  currentRevision((await readRevisions(journal)).all, ID)?.hash ?? null;

describe('two tablets that each made a revision 2', () => {
  it('have two rows of one number, each with its hash; only that of the lead here is in force', async () => {
    const [here, there] = [await deskOf('Lead here'), await deskOf('Lead there')];
    const ours = await confirmEtch(here, 25_000);
    const theirs = await confirmEtch(there, 15_000);
    await merge(here, there);
    const { all, refused } = await readRevisions(here.journal);
    expect(refused).toEqual([]);
    expect(all.map(({ protocol }) => protocol.revision)).toEqual([2, 2]);
    expect(all.find(({ hash }) => hash === ours)?.approval).toMatchObject({ by: 'Lead here' });
    expect(all.find(({ hash }) => hash === theirs)).toMatchObject({
      approval: null,
      elsewhere: { by: 'Lead there' },
    });
    expect(await inForce(here)).toBe(ours);
    expect(here.desk.nextRevision(ID)).toBe(3);
  });

  it('tell each other their logs whole, each by itself', async () => {
    const [here, there] = [await deskOf('Lead here'), await deskOf('Lead there')];
    await confirmEtch(there, 15_000);
    await merge(here, there);
    const { log, others } = must(await readLeadLogs(here.journal));
    expect(log.broken).toBe(0);
    expect(others.map((other) => [other.log.broken, other.log.entries.length])).toEqual([
      [0, must(await readLeadLogs(there.journal)).log.entries.length],
    ]);
  });
});

describe('a retirement', () => {
  it('counts on every tablet that has the revision, whatever was written there meanwhile', async () => {
    const [here, there] = [await deskOf('Lead here'), await openDesk()];
    const hash = await confirmEtch(here, 25_000);
    await merge(there, here);
    expect(await inForce(there)).toBe(hash);
    const { protocol } = (await readRevisions(here.journal)).all[0] ?? {};
    if (protocol === undefined) throw new Error('no revision');
    must(await here.desk.retire(protocol, 'the gel is gone'));
    await merge(there, here);
    expect(await inForce(there)).toBeNull();
  });

  it('is taken back by its name only, and only by the desk that it counts at', async () => {
    const [here, there] = [await deskOf('Lead here'), await deskOf('Lead there')];
    const hash = await confirmEtch(here, 25_000);
    await merge(there, here);
    const revision = async (of: TestDesk) => {
      const found = (await readRevisions(of.journal)).all.find((r) => r.hash === hash);
      if (found === undefined) throw new Error('no revision');
      return found;
    };
    must(await here.desk.retire((await revision(here)).protocol, 'here'));
    must(await there.desk.retire((await revision(there)).protocol, 'there'));
    must(await here.desk.bringBack(await revision(here)));
    expect(await inForce(here)).toBe(hash);
    await merge(here, there);
    expect((await revision(here)).retirement?.reason).toBe('there');
    must(await here.desk.bringBack(await revision(here)));
    expect(await inForce(here)).toBe(hash);
    await merge(there, here);
    expect((await revision(there)).retirement).not.toBeNull();
    must(await there.desk.bringBack(await revision(there)));
    expect((await revision(there)).retirement).toBeNull();
  });

  it('by a newer revision takes nothing out of force where that one is not confirmed', async () => {
    const [here, there] = [await deskOf('Lead here'), await deskOf('Lead there')];
    const first = await confirmEtch(here, 25_000);
    // The lead there confirms the very same revision, and then another one.
    const same = await confirmEtch(there, 25_000);
    await confirmEtch(there, 15_000);
    await merge(here, there);
    expect(same).toBe(first);
    expect(await inForce(here)).toBe(first);
  });
});

describe('a tablet that was lost', () => {
  it('leaves waiting on the next one what had waited on it', async () => {
    const [lost, other, next] = [await deskOf('Lead'), await deskOf('Other'), await openDesk()];
    const ours = await confirmEtch(lost, 25_000);
    await confirmEtch(other, 15_000);
    const theirs = await confirmEtch(other, 16_000);
    await merge(lost, other);
    expect(await inForce(lost)).toBe(ours);
    await merge(next, lost);
    expect(await inForce(next)).toBe(ours);
    const waiting = (await readRevisions(next.journal)).all.find(({ hash }) => hash === theirs);
    expect(waiting).toMatchObject({ approval: null, elsewhere: { by: 'Other' } });
  });
});

describe('what a file says in the name of this very tablet', () => {
  it('vouches for nothing that this desk has not logged', async () => {
    const here = await deskOf('Lead here');
    const { journal } = here;
    // A copy of this tablet goes on by itself: its log continues ours, and confirms a revision.
    const copy = await openDesk();
    const settings = must(await journal.documents.get('settings', { id: 'this-tablet' }));
    const own = { kind: 'settings', id: 'this-tablet', value: settings, epoch: copy.epoch };
    must(await copy.journal.documents.put(own));
    await merge(copy, here);
    const forged = { ...template(), revision: 9 };
    const hash = protocolHash(forged);
    const values = { protocol: ID, revision: 9, hash, from: '' };
    const entry = { atWallMs: 1, by: 'Nobody', deed: 'confirmed', values } as const;
    must(await appendLeadLog(copy.journal, { ...entry, epoch: copy.epoch }));
    must(
      await sayOfProtocol(
        { journal: copy.journal, epoch: () => copy.epoch, nowWallMs: () => 1 },
        {
          item: ID,
          said: [
            { type: 'written', protocol: forged },
            { type: 'confirmed', hash, by: 'Nobody', onWallMs: 1 },
          ],
          by: 'Nobody',
        },
      ),
    );
    await merge(here, copy);
    expect(await inForce(here)).toBeNull();
    expect((await readRevisions(journal)).all).toMatchObject([
      { hash, approval: null, elsewhere: { by: 'Nobody' } },
    ]);
    // The desk goes on, and what it confirms itself counts.
    const ours = await confirmEtch(here, 25_000);
    expect(await inForce(here)).toBe(ours);
  });

  it('is not taken for a fact when its content is not what its name stands for', async () => {
    const here = await deskOf('Lead here');
    const plain = {
      kind: 'protocol',
      item: ID,
      after: [],
      tablet: 'x',
      by: null,
      atWallMs: 1,
    } as const;
    const fact = asFact({ ...plain, said: { type: 'written', protocol: template() } });
    const { kind, id, value } = documentOf(fact);
    const altered = { ...(value as object), item: 'another' };
    must(await here.journal.documents.put({ kind, id, value: altered, epoch: here.epoch }));
    expect((await readRevisions(here.journal)).all).toEqual([]);
  });
});
