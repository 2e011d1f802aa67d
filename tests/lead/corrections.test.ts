import { describe, expect, it } from 'vitest';
import type { Unanswered } from '../../src/engine/unanswered-types.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { checkCaseFits } from '../../src/protocol/check-materials.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { changeId } from '../../src/protocol/diff.ts';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { type Edit, spotOfPlace, unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import { realChanges } from '../../src/protocol/open-corrections.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { correctedProtocol, readUnanswered } from '../../src/runtime/lead/lead-corrections.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { refusedConfirmation } from '../../src/runtime/lead/lead-state.ts';
import { draftOf, takeOver } from '../../src/runtime/lead/take-over.ts';
import { deedWords } from '../../src/words/lead-words.ts';
import { keptDocument, LEAD_PASSPHRASE } from '../fixtures/kept-files.ts';
import {
  CONFIRMED,
  confirmedProtocol,
  entryInForce,
  keptDevice,
  newTemplate,
  ROWS,
} from './corrections-support.ts';
import { instruction, openDesk, template as shippedToday, type TestDesk } from './lead-support.ts';

type Kept = Awaited<ReturnType<typeof keptDevice>>;

/** The desk of the first version's tablet under a template, opened by its passphrase. */
async function deskOn(device: Kept, template: Protocol): Promise<TestDesk> {
  const test = await openDesk(device, { templates: [template], corrections: ROWS });
  const opened = await test.desk.open(LEAD_PASSPHRASE);
  if (!opened.ok) throw new Error(opened.error.code);
  return test;
}

async function unanswered(test: TestDesk, template: Protocol): Promise<Unanswered | null> {
  const shipped = {
    protocols: [template],
    cases: [],
    tables: null,
    corrections: async () => ROWS,
  };
  const { journal } = test;
  const protocols = [await entryInForce(journal)];
  const [open] = await readUnanswered({ journal, shipped, protocols });
  return open?.unanswered ?? null;
}

const placesOf = (open: Unanswered | null) => open?.corrections.map(({ place }) => place) ?? [];

async function corrected(test: TestDesk, template: Protocol) {
  const { log, corrections } = test.desk.state.getState();
  const rows = corrections.ok ? corrections.value : [];
  const around = { templates: [template], rows, entries: log.entries };
  const found = correctedProtocol(await entryInForce(test.journal), around);
  if (found === null) throw new Error('no confirmed revision beside a template');
  return found;
}

const keep = (template: Protocol, place: string, reason: string) => ({
  protocol: template.id,
  template: protocolHash(template),
  place,
  title: 'Etch',
  reason,
});

/** Puts the clinic's instructions behind every number, as its lead does, and confirms. */
async function confirmDraft(test: TestDesk, id: string, ...edits: readonly Edit[]): Promise<void> {
  const draft = test.desk.state.getState().drafts.find((d) => d.id === id);
  if (draft === undefined) throw new Error('no draft');
  const { protocol } = draft.history;
  const open = unconfirmedFigures(protocol).map(({ spot }) => spot);
  // The first version let a number change under its quote: such a one is read again.
  const misquoted = checkProtocol(protocol).flatMap(({ code, place }) => {
    const spot = code === 'quote-differs' ? spotOfPlace(protocol, place) : null;
    return spot === null ? [] : [spot];
  });
  const spots = [...open, ...misquoted];
  const all = [...edits, { do: 'set-basis', spots, basis: instruction } as const];
  let { history } = draft;
  for (const edit of all) {
    const edited = addEdit(history, edit);
    if (!edited.ok) throw new Error(edited.error.place);
    history = edited.value;
  }
  await test.desk.saveDraft(id, history);
  const confirmed = await test.desk.confirm(id);
  if (!confirmed.ok) throw new Error(`${confirmed.error.code} ${confirmed.error.place}`);
}

const MAX = 'steps/etch/action.maxMs';
const LOOKED = 'steps/looked/added';

describe('a protocol that was confirmed under an earlier version', () => {
  it('stays byte for byte what it was, and so does its hash', async () => {
    const device = await keptDevice();
    const test = await deskOn(device, newTemplate());
    await test.desk.keepOurs([keep(newTemplate(), MAX, 'Our gel says 30 s.')]);
    const entry = await entryInForce(test.journal);
    expect(entry.hash).toBe(keptDocument('approval', CONFIRMED)['hash']);
    expect(canonicalText(entry.protocol)).toBe(canonicalText(keptDocument('protocol', CONFIRMED)));
  });

  it('has its corrections open, what could hurt first, with reason and source', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    const { open, others } = await corrected(test, template);
    expect(open.map(({ id, hurts }) => [id, hurts])).toEqual([
      [LOOKED, true],
      [MAX, true],
      ['steps/etch/instruction', false],
    ]);
    expect(open.map(({ isTyped }) => isTyped)).toEqual([false, true, false]);
    expect(open[1]?.rows).toMatchObject([
      { reason: 'Longer acid harms the tooth.', source: 'A journal 2020;1:2' },
    ]);
    expect(others.map(({ owner }) => owner)).toEqual(['steps/seat', 'cautions/look-first']);
    expect(await unanswered(test, template)).toEqual({
      template: protocolHash(template),
      corrections: [
        { place: LOOKED, title: 'Look', reason: 'Nobody was told to look.' },
        { place: MAX, title: 'Etch', reason: 'Longer acid harms the tooth.' },
      ],
    });
  });

  it('is answered one by one: kept with a reason, or taken over and confirmed', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    await test.desk.keepOurs([keep(template, MAX, 'Our gel says 30 s.')]);
    expect(placesOf(await unanswered(test, template))).toEqual([LOOKED]);
    const { inForce, hash, open } = await corrected(test, template);
    const changes = open.filter(({ id }) => id === LOOKED).map(({ change }) => change);
    const draft = await takeOver(test.desk, { inForce, hash, template, changes });
    if (!draft.ok) throw new Error(draft.error.code);
    // A draft answers nothing: patients are still treated by the revision in force.
    expect(placesOf(await unanswered(test, template))).toEqual([LOOKED]);
    await confirmDraft(test, draft.value);
    expect(await unanswered(test, template)).toBeNull();
    const entry = await entryInForce(test.journal);
    expect(entry.protocol.revision).toBe(4);
    const ids = entry.protocol.steps.map(({ id }) => id);
    expect(ids.indexOf('looked')).toBe(ids.indexOf('etch') - 1);
    expect(entry.protocol.cautions.map(({ id }) => id)).toContain('look-first');
    // Nothing else of the template came in.
    expect(entry.protocol.steps.find(({ id }) => id === 'seat')?.title).not.toBe('Seat unit');
  });

  it('is answered by the same number of its own, and not by another one', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    const confirmWith = async (value: number) => {
      const begun = await test.desk.beginDraft((await entryInForce(test.journal)).protocol);
      if (!begun.ok) throw new Error(begun.error.code);
      const spot = { part: 'steps', id: 'etch', key: 'action.maxMs' } as const;
      const figure = { value, basis: instruction };
      await confirmDraft(test, begun.value, { do: 'set-figure', spot, figure });
    };
    await confirmWith(28_000);
    expect(placesOf(await unanswered(test, template))).toEqual([LOOKED, MAX]);
    await confirmWith(25_000);
    expect(placesOf(await unanswered(test, template))).toEqual([LOOKED]);
  });

  it('is asked anew by a later template', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    await test.desk.keepOurs([
      keep(template, MAX, 'Our gel says 30 s.'),
      keep(template, LOOKED, 'We look at set-up.'),
    ]);
    expect(await unanswered(test, template)).toBeNull();
    const later = newTemplate({
      do: 'set-text',
      spot: { part: 'steps', id: 'etch', key: 'why' },
      text: 'Another reason.',
    });
    expect(placesOf(await unanswered(test, later))).toEqual([LOOKED, MAX]);
  });

  it('has nothing to answer where it was drafted from the template itself', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    const begun = await test.desk.beginDraft(template);
    if (!begun.ok) throw new Error(begun.error.code);
    const spot = { part: 'steps', id: 'etch', key: 'action.maxMs' } as const;
    const figure = { value: 28_000, basis: instruction };
    await confirmDraft(test, begun.value, { do: 'set-figure', spot, figure });
    expect(await unanswered(test, template)).toBeNull();
  });
});

describe('taking over into a draft', () => {
  it('goes on with the draft that was begun from the revision in force', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    const { inForce, hash, open } = await corrected(test, template);
    const mine = draftOf(test.desk.state.getState().drafts, hash);
    const count = test.desk.state.getState().drafts.length;
    const changes = open.filter(({ id }) => id === MAX).map(({ change }) => change);
    const draft = await takeOver(test.desk, { inForce, hash, template, changes });
    expect(draft).toEqual({ ok: true, value: mine?.id });
    expect(test.desk.state.getState().drafts).toHaveLength(count);
    const now = draftOf(test.desk.state.getState().drafts, hash);
    // What the lead had written into it is still there.
    expect(now?.history.edits.slice(0, mine?.history.edits.length)).toEqual(mine?.history.edits);
    const lacks = realChanges(now?.history.protocol ?? inForce, template).map(changeId);
    expect(lacks).not.toContain(MAX);
    expect(lacks).toContain('steps/etch/instruction');
    // Twice is once.
    await takeOver(test.desk, { inForce, hash, template, changes });
    expect(draftOf(test.desk.state.getState().drafts, hash)?.history.edits).toEqual(
      now?.history.edits,
    );
  });

  it('takes over everything that ships today, and nothing of it is left', async () => {
    const today = shippedToday();
    const test = await deskOn(await keptDevice(), today);
    const { inForce, hash } = await corrected(test, today);
    const changes = realChanges(inForce, today);
    expect(changes.length).toBeGreaterThan(20);
    const draft = await takeOver(test.desk, { inForce, hash, template: today, changes });
    if (!draft.ok) throw new Error(draft.error.code);
    const now = draftOf(test.desk.state.getState().drafts, hash);
    expect(realChanges(now?.history.protocol ?? inForce, today).map(changeId)).toEqual([]);
    expect(refusedConfirmation(now?.history.protocol ?? inForce)?.code).toBe('unconfirmed-figures');
    await confirmDraft(test, draft.value);
    expect((await corrected(test, today)).open).toEqual([]);
  });
});

describe('the log of the desk', () => {
  it('tells why ours was kept, and takes no answer without a reason', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    const before = test.desk.state.getState().log.entries.length;
    expect(await test.desk.keepOurs([keep(template, MAX, ' ')])).toMatchObject({
      error: { code: 'empty' },
    });
    expect(test.desk.state.getState().log.entries).toHaveLength(before);
    await test.desk.keepOurs([keep(template, MAX, 'Our gel says 30 s.')]);
    const { entries, broken } = test.desk.state.getState().log;
    const [last] = entries.slice(-1);
    expect(last && deedWords(last)).toBe(
      `Kept “Etch: limit” of ${template.id} as it is, against template ${protocolHash(template).slice(0, 8)}: Our gel says 30 s.`,
    );
    expect(broken).toBe(0);
  });

  it('is not asked by a desk that is closed', async () => {
    const template = newTemplate();
    const test = await deskOn(await keptDevice(), template);
    await test.desk.close('by-hand');
    expect(await test.desk.keepOurs([keep(template, MAX, 'Because.')])).toMatchObject({
      error: { code: 'desk-closed' },
    });
  });
});

describe('a case that was prepared before', () => {
  it('says what was not asked yet, by name, once the protocol asks it', () => {
    const spec = parseCase(keptDocument('prepared-case', 'two-veneers'));
    if (!spec.ok) throw new Error('the prepared case does not parse');
    const asking = newTemplate({
      do: 'set-field',
      spot: { part: 'steps', id: 'looked', key: 'where' },
      value: [{ fact: 'substrate', is: ['dentine-shows'] }],
    });
    const codes = (protocol: Protocol) =>
      checkCaseFits(spec.value, protocol).map(({ code }) => code);
    expect(codes(confirmedProtocol())).not.toContain('not-asked');
    expect(codes(asking)).toContain('not-asked');
  });
});
