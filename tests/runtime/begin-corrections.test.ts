/**
 * Beginning a case on a revision that was confirmed under an earlier version, while a new template
 * corrects something in it that could hurt.
 */
import { webcrypto } from 'node:crypto';
import { beforeEach, describe, expect, test } from 'vitest';
import { exportFile } from '../../src/export/export-forms.ts';
import { foldJournal, parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import type { Session } from '../../src/runtime/session.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { keptDocument, LEAD_PASSPHRASE } from '../fixtures/kept-files.ts';
import { keptDevice, newTemplate, ROWS } from '../lead/corrections-support.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { type FakeTime, fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const template = newTemplate();

function preparedCase(): CaseFile {
  const parsed = parseCase(keptDocument('prepared-case', 'two-veneers'));
  if (!parsed.ok) throw new Error('the prepared case does not parse');
  return parsed.value;
}

const spec = preparedCase();

const UNANSWERED = {
  template: protocolHash(template),
  corrections: [
    { place: 'steps/looked/added', title: 'Look', reason: 'Nobody was told to look.' },
    { place: 'steps/etch/action.maxMs', title: 'Etch', reason: 'Longer acid harms the tooth.' },
  ],
};

let device: Awaited<ReturnType<typeof keptDevice>>;

beforeEach(async () => {
  device = await keptDevice();
});

async function started(
  o: { readonly corrections?: () => Promise<unknown>; readonly time?: FakeTime } = {},
): Promise<Session> {
  const session = quietSession({
    journal: createMemoryJournal(device),
    protocols: [template],
    cases: [],
    corrections: o.corrections ?? (async () => ROWS),
    crypto: webcrypto as unknown as Crypto,
    ...(o.time === undefined ? {} : { time: o.time }),
  });
  await session.start();
  return session;
}

const patient = { spec, mode: 'patient', speed: 1 } as const;
const opened = (session: Session) => session.store.getState().running?.log.state.opened;

describe('a patient case', () => {
  test('is told at the first press what is open, by name, and nothing is written', async () => {
    const session = await started();
    expect(session.store.getState().corrections).toEqual([
      { protocol: template.id, title: template.title, unanswered: UNANSWERED },
    ]);
    expect(await session.openCase(patient)).toEqual({
      ok: false,
      error: { code: 'corrections-open', unanswered: UNANSWERED },
    });
    expect(session.store.getState()).toMatchObject({ running: null, cases: [] });
    expect(await session.casesList.state.getState()).toMatchObject({ facts: [] });
  });

  test('begins all the same, and says so in its log, its record and its text', async () => {
    const session = await started();
    const begun = await session.openCase({ ...patient, allTheSame: true });
    expect(begun.ok).toBe(true);
    expect(opened(session)).toMatchObject({ mode: 'patient', unanswered: UNANSWERED });
    const text = session.heldCase() ?? '';
    const parsed = parseJournal(text, { verify: verifyChain });
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
    const log = foldJournal(parsed.value.entries);
    if (!log.ok) throw new Error(JSON.stringify(log.error));
    expect(journalJson({ caseId: parsed.value.caseId, entries: parsed.value.entries })).toBe(text);
    const source = { ...parsed.value, log: log.value };
    const facts = JSON.parse(exportFile(source, 'facts').text);
    expect(facts.protocol.unanswered).toEqual(UNANSWERED.corrections);
    expect(exportFile(source, 'text').text).toContain(
      'Not answered by the clinic lead at the beginning: Etch: limit. Longer acid harms the tooth.',
    );
  });

  test('begins at once when the lead has answered, and says nothing of it', async () => {
    const session = await started();
    const desk = await session.lead();
    const open = await desk.open(LEAD_PASSPHRASE);
    expect(open.ok).toBe(true);
    const kept = UNANSWERED.corrections.map(({ place, title }) => ({
      protocol: template.id,
      template: UNANSWERED.template,
      place,
      title,
      reason: 'Our instructions say so.',
    }));
    expect(await desk.keepOurs(kept)).toEqual({ ok: true, value: null });
    expect(session.store.getState().corrections).toEqual([]);
    expect((await session.openCase(patient)).ok).toBe(true);
    expect(opened(session)).not.toHaveProperty('unanswered');
  });

  test('is told first what else stands in its way', async () => {
    const session = await started();
    const { protocol, hash } = session.store.getState().protocols[0] ?? {};
    if (protocol === undefined || hash === undefined) throw new Error('no protocol');
    const draft = { protocol, hash, approval: null, origin: 'own' } as const;
    expect(await session.openCase({ ...patient, draft })).toMatchObject({
      error: { code: 'protocol-unconfirmed' },
    });
  });
});

test('a rehearsal is not held up', async () => {
  const session = await started();
  expect((await session.openCase({ ...patient, mode: 'rehearsal' })).ok).toBe(true);
  expect(opened(session)).not.toHaveProperty('unanswered');
});

describe('a file of corrections that does not come', () => {
  test('keeps nobody from beginning', async () => {
    const session = await started({ corrections: () => Promise.reject(new Error('offline')) });
    expect((await session.openCase(patient)).ok).toBe(true);
    const desk = await session.lead();
    await desk.refresh();
    expect(desk.state.getState().corrections).toMatchObject({
      error: { code: 'not-there', place: 'corrections' },
    });
  });

  test('is waited for two seconds, not for ever', async () => {
    const time = fakeTime();
    const starting = started({ corrections: () => new Promise(() => undefined), time });
    for (let waited = 0; waited < 30; waited += 1) {
      await settle();
      time.pass(100);
    }
    const session = await starting;
    expect(session.store.getState()).toMatchObject({ phase: 'ready', corrections: [] });
    const desk = await session.lead();
    expect(await desk.open(LEAD_PASSPHRASE)).toEqual({ ok: true, value: null });
    expect(desk.state.getState()).toMatchObject({ isRead: true, isOpen: true });
  });
});
