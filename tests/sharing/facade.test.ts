import { describe, expect, it } from 'vitest';
import { keepFact, listFacts } from '../../src/runtime/facts/fact.ts';
import { sharingNotices } from '../../src/runtime/sharing/sharing-notices.ts';
import { until } from './clinic.ts';
import { founded, letIn, PASSPHRASE, tablet } from './facade-clinic.ts';
import { testServer } from './facade-tablet.ts';

describe('a clinic of tablets', () => {
  it('is founded with the first code, and lets a second tablet in that then has its cases', async () => {
    const server = testServer();
    const lead = await founded(server);
    expect(lead.takesPart).toBe(true);
    expect(lead.state).toMatchObject({ standing: 'paired', isDemo: true, name: 'Chair 1' });
    expect(lead.state.box).toMatchObject({ isKept: false });
    await lead.press('case-1');
    const other = await letIn(server, { lead, name: 'Chair 2' });
    await until(async () => (await other.entries('case-1')) === 1, 'the case');
    await other.press('case-2');
    await until(async () => (await lead.entries('case-2')) === 1, 'the other case');
    await until(() => lead.state.tablets.length === 2, 'two rows');
    expect(lead.state.tablets.map(({ name, isThis }) => [name, isThis])).toEqual([
      ['Chair 1', true],
      ['Chair 2', false],
    ]);
    await until(() => lead.state.tablets[1]?.lastContactWallMs !== null, 'presence');
    // The new tablet holds the lead's box too, and it opens nothing without the passphrase.
    await until(() => other.state.box !== null, 'the box there');
    const wrong = await other.sharing.invite({ passphrase: 'something else' });
    expect(wrong.ok ? null : wrong.error.code).toBe('wrong-passphrase');
  });

  it('tells the other end that a tablet was let in, also when its page of pairing is gone by then', async () => {
    const server = testServer();
    const lead = await founded(server);
    const other = await tablet(server);
    const inviting = await lead.sharing.invite({ passphrase: PASSPHRASE });
    if (!inviting.ok) throw new Error(inviting.error.code);
    const { code } = inviting.value.state.getState();
    const joining = await other.sharing.join({ code: code ?? '', name: 'Chair 2' });
    if (!joining.ok) throw new Error(joining.error.code);
    const { sharing } = other;
    const unfollow = sharing.state.subscribe(({ standing }) => {
      if (standing === 'paired') joining.value.stop();
    });
    await until(() => inviting.value.state.getState().step === 'compare', 'the digits');
    await inviting.value.confirm();
    await until(() => inviting.value.state.getState().step === 'done', 'the lead to hear of it');
    await until(() => lead.state.tablets.length === 2, 'two rows');
    unfollow();
  });

  it('puts a tablet out: it comes in no more, its word counts no more, and what is new stays closed to it', async () => {
    const server = testServer();
    const lead = await founded(server);
    const other = await letIn(server, { lead, name: 'Chair 2' });
    const third = await letIn(server, { lead, name: 'Chair 3' });
    await lead.press('case-1');
    await until(async () => (await third.entries('case-1')) === 1, 'the case');
    await until(() => lead.state.tablets.length === 3, 'three rows');
    const done = await lead.sharing.putOut({
      device: other.id,
      reason: 'lost',
      passphrase: PASSPHRASE,
    });
    expect(done.ok).toBe(true);
    await until(() => other.state.line === 'refused', 'to be out');
    await lead.press('case-1');
    await third.press('case-3');
    await until(async () => (await third.entries('case-1')) === 2, 'the case goes on');
    await until(async () => (await lead.entries('case-3')) === 1, 'the third tells');
    expect(await other.entries('case-1')).toBe(1);
    // Whoever reads the store with what the lost tablet holds opens nothing of it.
    const versions = server.hub.messages('K').map(({ subject }) => subject.split('.').slice(3, 5));
    expect(versions).toContainEqual(['clinic', '2']);
  });

  it('does not call itself put out where the store alone lets it in no more', async () => {
    const server = testServer();
    const lead = await founded(server);
    const other = await letIn(server, { lead, name: 'Chair 2' });
    await until(() => lead.state.tablets.length === 2, 'two rows');
    // As after a server whose folder was made anew: it knows neither tablet.
    server.hub.putOut(lead.id);
    await until(() => lead.state.line === 'refused', 'no way in');
    expect(lead.state).toMatchObject({ standing: 'paired', problem: 'not-let-in' });
    expect(sharingNotices(lead.state).map(({ what }) => what)).toContain('notLetIn');
    expect(other.state).toMatchObject({ standing: 'paired', problem: null });
  });

  it('goes on from the printed box after every tablet is lost', async () => {
    const server = testServer();
    const lead = await founded(server);
    await lead.press('case-1');
    const text = (await lead.sharing.boxText()) ?? '';
    expect((await lead.sharing.boxPrinted()).ok).toBe(true);
    await until(() => lead.state.owed === 0 && lead.state.box?.isKept === true, 'all to be given');
    await lead.off();
    const next = await tablet(server);
    const wrong = await next.sharing.recover({
      boxText: text,
      passphrase: 'another one',
      name: 'Chair 1',
    });
    expect(wrong.ok ? null : wrong.error.code).toBe('wrong-passphrase');
    const done = await next.sharing.recover({ boxText: text, passphrase: PASSPHRASE, name: 'New' });
    expect(done.ok).toBe(true);
    await until(async () => (await next.entries('case-1')) === 1, 'the case of before');
    const more = await letIn(server, { lead: next, name: 'Chair 2' });
    await until(async () => (await more.entries('case-1')) === 1, 'the case on a further one');
  });

  it('takes a tablet that lost its keys, and has its records, as another one', async () => {
    const server = testServer();
    const lead = await founded(server);
    const other = await letIn(server, { lead, name: 'Chair 2' });
    await until(() => other.state.owed === 0 && other.state.box !== null, 'all to be known');
    const text = (await lead.sharing.boxText()) ?? '';
    const known = await listFacts(other.journal, 'tablet');
    await other.off();
    // Its database of sharing is gone with its keys; the journal came back from its second home.
    const again = await tablet(server, other.id);
    for (const fact of known.ok ? known.value.facts : []) {
      await keepFact(again.journal, fact, again.epoch ?? 0);
    }
    const recovered = { boxText: text, passphrase: PASSPHRASE, name: 'Chair 2' };
    expect((await again.sharing.recover(recovered)).ok).toBe(true);
    await again.press('case-3');
    await until(async () => (await lead.entries('case-3')) === 1, 'its case at the lead');
    expect(lead.state.refused).toEqual([]);
  });

  it('renames a tablet everywhere, and one that left comes again as another', async () => {
    const server = testServer();
    const lead = await founded(server);
    const other = await letIn(server, { lead, name: 'Chair 2' });
    const named = { device: other.id, name: 'Surgery', passphrase: PASSPHRASE };
    expect((await lead.sharing.rename(named)).ok).toBe(true);
    await until(() => other.state.name === 'Surgery', 'its new name');
    await other.sharing.leave();
    expect(other.state.standing).toBe('alone');
    expect(other.takesPart).toBe(false);
  });
});
