/** Drafts that came in say what they hold, who sent them, when, and whether the same is here already. */
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { parseProtocolFileText } from '../../src/runtime/lead/lead-protocol-file.ts';
import { cameInLines } from '../../src/ui/lead/came-in-model.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { SMALL_WHOLE } from '../engine/fixture.ts';
import { instruction, openDesk, PASSPHRASE, type TestDesk } from './lead-support.ts';

const times = timesIn({ zone: 'Europe/Lisbon', language: 'en' });
// 1,780,000,000,000 ms since 1970 is 28 May 2026, 20:26:40 UTC, an hour later in Lisbon's summer.
const DAY = 'Thu 28 May 2026';

/** Opened once: a passphrase is slow on purpose. */
let there: TestDesk;
let here: TestDesk;

async function deskOf(person: string, clinic = ''): Promise<TestDesk> {
  const test = await openDesk(undefined, { templates: [SMALL_WHOLE], clinic });
  await test.desk.setPassphrase({ person, passphrase: PASSPHRASE });
  return test;
}

function must<T>(
  result:
    | { readonly ok: true; readonly value: T }
    | { readonly ok: false; readonly error: unknown },
): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

beforeAll(async () => {
  [there, here] = await Promise.all([deskOf('Lead L', 'Harbour'), deskOf('Lead K')]);
});

afterEach(async () => {
  for (const { id } of here.desk.state.getState().drafts) await here.desk.dropDraft(id);
});

const draftOf = ({ desk }: TestDesk, id: string) =>
  present(
    desk.state.getState().drafts.find((d) => d.id === id),
    'draft',
  );

/** The lines of the draft that a file makes, without its day's hour. */
async function linesOf(test: TestDesk, text: string, tablet = ''): Promise<readonly string[]> {
  const id = must(await test.desk.importText(text));
  const { revisions, templates, drafts } = test.desk.state.getState();
  return cameInLines(draftOf(test, id), { revisions, templates, drafts, tablet, times });
}

async function confirmed({ desk }: TestDesk): Promise<string> {
  const id = must(await desk.beginDraft(SMALL_WHOLE));
  const draft = present(
    desk.state.getState().drafts.find((d) => d.id === id),
    'draft',
  );
  const spots = figuresOf(draft.history.protocol)
    .filter((f) => f.binds)
    .map((f) => f.spot);
  const all = must(addEdit(draft.history, { do: 'set-basis', spots, basis: instruction }));
  await desk.saveDraft(id, all);
  return must(await desk.confirm(id)).hash;
}

const other = { ...SMALL_WHOLE, title: 'Another', revision: 7 };

describe('a file that came in', () => {
  it('says its revision and hash, the clinic and the person that sent it, and both days', async () => {
    const text = must(await there.desk.exportText(other));
    expect(await linesOf(here, text)).toEqual([
      `Holds revision 7, ${protocolHash(other).slice(0, 8)}`,
      `Sent by Lead L, Harbour, ${DAY}, as the file says`,
      expect.stringMatching(/^Taken in by Lead K, 28 May 2026/),
    ]);
  });

  it('of a clinic without a name says the person alone, and one of before that it does not say', async () => {
    const text = must(await there.desk.exportText(other));
    const nameless = text.replace('"clinic": "Harbour"', '"clinic": " "');
    expect((await linesOf(here, nameless))[1]).toBe(`Sent by Lead L, ${DAY}, as the file says`);
    const { from: _, ...before } = JSON.parse(text) as Record<string, unknown>;
    const old = JSON.stringify({ ...before, formatVersion: 1 });
    expect((await linesOf(here, old))[1]).toBe('The file does not say who sent it');
  });

  it('is the same file as one that was taken in, by its hash and not by its name', async () => {
    const text = must(await there.desk.exportText(other));
    expect(await linesOf(here, text)).toHaveLength(3);
    const again = must(await there.desk.exportText(other));
    expect((await linesOf(here, again)).at(-1)).toMatch(/^The same file as the one .* 28 May 2026/);
    const changed = must(await there.desk.exportText({ ...other, summary: 'Changed.' }));
    expect(await linesOf(here, changed)).toHaveLength(3);
  });

  it('is the same file as a revision or the template of this tablet', async () => {
    const hash = await confirmed(here);
    const { protocol } = present(
      here.desk.state.getState().revisions.find((r) => r.hash === hash),
      'revision',
    );
    const own = must(await here.desk.exportText(protocol));
    const last = async (text: string) => (await linesOf(here, text)).at(-1);
    const number = SMALL_WHOLE.revision + 1;
    expect(await last(own)).toBe(`The same file: it is revision ${number}, in use here`);
    await here.desk.retire(protocol, 'tried');
    expect(await last(own)).toBe(`The same file: it is revision ${number} of this tablet`);
    const shipped = must(await here.desk.exportText(SMALL_WHOLE));
    expect(await last(shipped)).toBe('The same file: it is the template that ships');
  });

  it('whose sender does not fit is refused at its place', async () => {
    const text = must(await there.desk.exportText(other));
    const hurt = text.replace('"clinic": "Harbour"', '"clinic": 7');
    expect(parseProtocolFileText(hurt)).toMatchObject({
      ok: false,
      error: { place: 'file.from.clinic' },
    });
  });
});

describe('a draft that a backup brought', () => {
  it('says that another tablet began it, and one of this tablet says nothing', async () => {
    const draft = draftOf(here, must(await here.desk.beginDraft(SMALL_WHOLE)));
    const { revisions, templates, drafts } = here.desk.state.getState();
    const on = (tablet: string) =>
      cameInLines(draft, { revisions, templates, drafts, tablet, times });
    expect(on(draft.tablet ?? '')).toEqual([]);
    expect(on('another')).toEqual([
      `Began from revision ${SMALL_WHOLE.revision}, ${protocolHash(SMALL_WHOLE).slice(0, 8)}`,
      `Begun on another tablet (${draft.tablet?.slice(0, 8)}); a backup brought it`,
    ]);
  });
});
