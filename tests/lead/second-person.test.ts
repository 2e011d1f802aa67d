// A second person who reads what the first one confirmed is common practice where two check a dose (no
// source). Off, nothing is as it was before there was such a person.
import { describe, expect, it } from 'vitest';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import { verifyLeadLog } from '../../src/runtime/lead/lead-log.ts';
import { approvers } from '../../src/words/approval-words.ts';
import { deedWords, leadProblemWords } from '../../src/words/lead-words.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { instruction, openDesk, PASSPHRASE, PERSON, type TestDesk } from './lead-support.ts';

async function confirmable(): Promise<{ readonly test: TestDesk; readonly draft: string }> {
  const test = await openDesk(undefined, { templates: [smallProtocol()] });
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  return { test, draft: await draftOf(test) };
}

async function draftOf(test: TestDesk, by = PERSON): Promise<string> {
  const begun = await test.desk.beginDraft(smallProtocol());
  if (!begun.ok) throw new Error(begun.error.code);
  const draft = test.desk.state.getState().drafts.find(({ id }) => id === begun.value);
  if (draft === undefined) throw new Error('no draft');
  const spots = unconfirmedFigures(draft.history.protocol).map(({ spot }) => spot);
  const basis = { ...instruction, confirmedBy: by };
  const edited = addEdit(draft.history, { do: 'set-basis', spots, basis });
  if (!edited.ok) throw new Error(edited.error.code);
  await test.desk.saveDraft(begun.value, edited.value);
  return begun.value;
}

const lastWords = ({ desk }: TestDesk, deed: string): string => {
  const entry = desk.state.getState().log.entries.findLast((each) => each.deed === deed);
  return entry === undefined ? '' : deedWords(entry);
};

describe('a second person', () => {
  it('is not asked for until somebody at the desk wants it, and then stands in the approval', async () => {
    const { test, draft } = await confirmable();
    expect(await test.desk.confirm(draft, 'Dentist D')).toMatchObject({ ok: true });
    const [alone] = test.desk.state.getState().revisions;
    expect(alone?.approval).not.toHaveProperty('second');
    expect(lastWords(test, 'confirmed')).not.toContain('Dentist D');

    expect(await test.desk.askSecond(true)).toMatchObject({ ok: true });
    expect(test.desk.state.getState().asksSecond).toBe(true);
    expect(await test.desk.confirm(await draftOf(test), ' Dentist D ')).toMatchObject({ ok: true });
    const [both] = test.desk.state.getState().revisions;
    expect(both?.approval).toMatchObject({ by: PERSON, second: 'Dentist D' });
    expect(both?.approval && approvers(both.approval)).toBe(`${PERSON} and Dentist D`);
    expect(lastWords(test, 'confirmed')).toMatch(/together with Dentist D$/);
    expect(verifyLeadLog(test.desk.state.getState().log.entries)).toMatchObject({ broken: 0 });
  });

  it('is somebody else: not the keeper, who began the draft, or who compared a number of it', async () => {
    const { test } = await confirmable();
    await test.desk.askSecond(true);
    const draft = await draftOf(test, 'Assistant A');
    for (const name of ['', '  ']) {
      expect(await test.desk.confirm(draft, name)).toMatchObject({ error: { code: 'no-second' } });
    }
    for (const name of [PERSON, ` ${PERSON.toLowerCase()}  `, 'assistant  a']) {
      expect(await test.desk.confirm(draft, name), name).toMatchObject({
        error: { code: 'same-person' },
      });
    }
    expect(test.desk.state.getState().revisions).toEqual([]);
    expect(await test.desk.confirm(draft, 'Dentist D')).toMatchObject({ ok: true });
  });

  it('is the same person however the name is put down', async () => {
    const { test } = await confirmable();
    await test.desk.askSecond(true);
    const draft = await draftOf(test, 'A. Zoë Weber');
    for (const name of ['A Zoë Weber', 'a.zoe\u0308-weber', 'Ａ. Zoë Weber,', ' A.  Zoë  Weber.']) {
      expect(await test.desk.confirm(draft, name), name).toMatchObject({
        error: { code: 'same-person' },
      });
    }
    expect(await test.desk.confirm(draft, ' . ')).toMatchObject({ error: { code: 'no-second' } });
    expect(await test.desk.confirm(draft, 'B. Zoë Weber')).toMatchObject({ ok: true });
  });

  it('is asked for where a revision that one confirmed would come back: that takes a new draft', async () => {
    const { test, draft } = await confirmable();
    await test.desk.confirm(draft);
    const newest = () => test.desk.state.getState().revisions[0];
    const alone = newest();
    if (alone === undefined) throw new Error('no revision');
    await test.desk.retire(alone.protocol, 'the gel is gone');
    await test.desk.askSecond(true);
    const retired = newest() ?? alone;
    const refused = await test.desk.bringBack(retired);
    if (refused.ok) throw new Error('it came back');
    expect(refused.error.code).toBe('no-second');
    expect(leadProblemWords(refused.error)).toMatch(/Begin a draft from it/);
    expect(newest()?.retirement).not.toBeNull();
    await test.desk.askSecond(false);
    expect(await test.desk.bringBack(retired)).toMatchObject({ ok: true });
    expect(newest()?.retirement).toBeNull();
  });

  it('is not asked again where both confirmed what comes back', async () => {
    const { test, draft } = await confirmable();
    await test.desk.askSecond(true);
    await test.desk.confirm(draft, 'Dentist D');
    const newest = () => test.desk.state.getState().revisions[0];
    const both = newest();
    if (both === undefined) throw new Error('no revision');
    await test.desk.retire(both.protocol, 'the gel is gone');
    expect(await test.desk.bringBack(newest() ?? both)).toMatchObject({ ok: true });
    expect(newest()?.retirement).toBeNull();
  });

  it('is asked for after a restart too, until that is taken back; what one confirmed stays', async () => {
    const { test, draft } = await confirmable();
    await test.desk.confirm(draft);
    await test.desk.askSecond(true);
    const again = await openDesk(test.device, { templates: [smallProtocol()] });
    expect(again.desk.state.getState().asksSecond).toBe(true);
    expect(again.desk.state.getState().revisions[0]).toMatchObject({ approval: { by: PERSON } });
    await again.desk.open(PASSPHRASE);
    await again.desk.askSecond(false);
    expect(again.desk.state.getState().asksSecond).toBe(false);
    expect(lastWords(again, 'second-person')).toMatch(/^No longer asks/);
    expect(await again.desk.confirm(await draftOf(again))).toMatchObject({ ok: true });
  });
});
