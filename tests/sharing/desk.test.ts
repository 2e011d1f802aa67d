/** What a desk says counts in its whole clinic once its tablet has signed it; what a file says waits. */
import { afterEach, describe, expect, it } from 'vitest';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { FactMerger } from '../../src/runtime/backup/merge-facts.ts';
import { type Fact, keepFact } from '../../src/runtime/facts/fact.ts';
import { isOfThisDesk, readThisTablet } from '../../src/runtime/facts/this-tablet.ts';
import { currentRevision, readRevisions } from '../../src/runtime/lead/lead-revisions.ts';
import { must } from '../backup/filled-journal.ts';
import { factsOf } from '../facts/tablets.ts';
import {
  instruction,
  openDesk,
  PASSPHRASE,
  type TestDesk,
  template,
} from '../lead/lead-support.ts';
import { type Clinic, clinic, paired, settled, TestTablet } from './clinic.ts';

const ID = template().id;

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

/** A desk with a confirmed revision, and everything that it says. */
async function confirmed(
  person: string,
  targetMs: number,
): Promise<{ readonly tablet: string; readonly hash: string; readonly facts: readonly Fact[] }> {
  const test: TestDesk = await openDesk();
  must(await test.desk.setPassphrase({ person, passphrase: PASSPHRASE }));
  const { desk } = test;
  const draftId = must(await desk.beginDraft(template()));
  const draft = desk.state.getState().drafts.find(({ id }) => id === draftId);
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const figure = { value: targetMs, basis: instruction };
  const edited = must(addEdit(draft.history, { do: 'set-figure', spot, figure }));
  const spots = figuresOf(edited.protocol).flatMap((f) => (f.binds ? [f.spot] : []));
  must(
    await desk.saveDraft(
      draftId,
      must(addEdit(edited, { do: 'set-basis', spots, basis: instruction })),
    ),
  );
  const { hash } = must(await desk.confirm(draftId));
  const { tablet } = must(await readThisTablet(test.journal));
  return { tablet, hash, facts: await factsOf(test) };
}

async function on(of: Clinic, name: string): Promise<TestTablet> {
  const tablet = await new TestTablet(of, await paired(of, name)).on();
  tablets.push(tablet);
  return tablet;
}

/** What that desk said is on this tablet as its own. */
async function atDesk(tablet: TestTablet, facts: readonly Fact[]): Promise<void> {
  for (const fact of facts) must(await keepFact(tablet.journal, fact, tablet.epoch));
  tablet.engine.now();
}

async function fromFile(tablet: TestTablet, facts: readonly Fact[], of: string): Promise<void> {
  const { journal, epoch } = tablet;
  const none = new Set<string>();
  const merger = new FactMerger({
    journal,
    epoch,
    tablet: of,
    marks: { cameIn: none, takenOver: none },
  });
  must(await merger.begin(must(await journal.documents.listAll())));
  for (const fact of facts) must(await merger.take(fact));
}

const inForce = async ({ journal }: TestTablet): Promise<string | null> =>
  currentRevision((await readRevisions(journal)).all, ID)?.hash ?? null;

describe('a confirmation at one desk of the clinic', () => {
  it('is in force on every tablet, and nothing is refused there', async () => {
    const said = await confirmed('Lead', 25_000);
    const of = await clinic();
    const lead = await on(of, said.tablet);
    const other = await on(of, 'other');
    await atDesk(lead, said.facts);
    await settled(of.hub, tablets);
    expect(await inForce(other)).toBe(said.hash);
    expect((await readRevisions(other.journal)).refused).toEqual([]);
  });

  it('waits where a file brought it, also on a tablet that has no lead of its own, until it comes signed', async () => {
    const said = await confirmed('Lead', 25_000);
    const stranger = await confirmed('Stranger', 15_000);
    const of = await clinic();
    const lead = await on(of, said.tablet);
    const other = await on(of, 'other');
    await settled(of.hub, tablets);
    await fromFile(other, stranger.facts, stranger.tablet);
    await fromFile(other, said.facts, said.tablet);
    expect(await inForce(other)).toBeNull();
    await atDesk(lead, said.facts);
    await settled(of.hub, tablets);
    // What the file brought of a stranger is neither in force here nor handed on.
    expect(await inForce(other)).toBe(said.hash);
    const { all } = await readRevisions(other.journal);
    expect(all.find(({ hash }) => hash === stranger.hash)?.approval ?? null).toBeNull();
    expect(await inForce(lead)).toBe(said.hash);
  });
});

describe('a recall', () => {
  it('is lifted everywhere by a desk of the clinic, and by no file', async () => {
    const of = await clinic();
    const a = await on(of, 'a');
    const b = await on(of, 'b');
    const [lifted] = await a.say('material', 'box', { type: 'recall-lifted', of: ['x'] });
    await settled(of.hub, tablets);
    const here = must(await readThisTablet(b.journal));
    if (lifted === undefined) throw new Error('a fact');
    expect(await b.facts('material')).toEqual([lifted.id]);
    expect(isOfThisDesk(lifted, here)).toBe(true);
    expect(isOfThisDesk({ ...lifted, tablet: 'stranger' }, here)).toBe(false);
  });
});
