/** The clinic's zone and the tablet's id: set at the first start, written into cases. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseCase } from '../../src/protocol/parse-case.ts';
import type { Session } from '../../src/runtime/session.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { quietSession } from './quiet-session.ts';

const jsonOf = (path: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8'));
const CASE = jsonOf('demo-data/cases/two-veneers.json');
const parsed = parseCase(CASE);
if (!parsed.ok) throw new Error('the demonstration case cannot be read');
const spec = parsed.value;

const started = async (o: { journal: Journal; deviceZone: string; isWriter?: boolean }) => {
  const session: Session = quietSession({
    ...o,
    protocols: [jsonOf(`shared/protocols/${spec.protocol}.json`)],
    cases: [CASE],
  });
  await session.start();
  return session;
};

async function openedEvent(session: Session) {
  const opened = await session.openCase({ spec, mode: 'rehearsal', speed: 1 });
  if (!opened.ok) throw new Error(opened.error.code);
  const event = session.store.getState().running?.log.state.opened;
  session.leaveCase();
  return event;
}

describe('the zone of the clinic', () => {
  test('is at first what the browser says, and stays when the tablet travels', async () => {
    const journal = createMemoryJournal();
    const first = await started({ journal, deviceZone: 'Asia/Kathmandu' });
    expect(first.store.getState().settings.zone).toBe('Asia/Kathmandu');
    const later = await started({ journal, deviceZone: 'Europe/Lisbon' });
    expect(later.store.getState().settings.zone).toBe('Asia/Kathmandu');
    expect(later.store.getState().tablet.zone).toBe('Europe/Lisbon');
  });

  test('is written into a case, with the id of the tablet', async () => {
    const session = await started({ journal: createMemoryJournal(), deviceZone: 'Europe/Lisbon' });
    const { settings } = session.store.getState();
    await session.saveSettings({ ...settings, zone: 'Australia/Lord_Howe' });
    const event = await openedEvent(session);
    expect(settings.tablet).not.toBe('');
    expect(event).toMatchObject({ zone: 'Australia/Lord_Howe', tablet: settings.tablet });
  });

  test('is the one of the browser while the kept one has no rules here', async () => {
    const journal = createMemoryJournal();
    const first = await started({ journal, deviceZone: 'Europe/Lisbon' });
    await first.saveSettings({ ...first.store.getState().settings, zone: 'Mars/Olympus' });
    const later = await started({ journal, deviceZone: 'Europe/Lisbon' });
    expect(later.store.getState().settings.zone).toBe('Europe/Lisbon');
  });

  test('is shown in a window that only reads, which writes nothing', async () => {
    const journal = createMemoryJournal();
    const reader = await started({ journal, deviceZone: 'Europe/Lisbon', isWriter: false });
    expect(reader.store.getState().settings.zone).toBe('Europe/Lisbon');
    const kept = await journal.documents.get('settings', { id: 'this-tablet' });
    expect(kept.ok && kept.value).toBeFalsy();
  });
});

describe('the id of the tablet', () => {
  test('is made once', async () => {
    const journal = createMemoryJournal();
    const first = await started({ journal, deviceZone: 'UTC' });
    const { tablet } = first.store.getState().settings;
    expect(tablet).toMatch(/^id-/);
    const again = await started({ journal, deviceZone: 'UTC' });
    expect(again.store.getState().settings.tablet).toBe(tablet);
  });

  test('is made for a tablet of an older version too, whose other settings stay', async () => {
    const journal = createMemoryJournal();
    const first = await started({ journal, deviceZone: 'UTC' });
    const { zone: _, tablet: __, ...older } = first.store.getState().settings;
    const old = { ...older, clinic: 'Clinic North' };
    await first.saveSettings(old as typeof older & { zone: string; tablet: string });
    const later = await started({ journal, deviceZone: 'Europe/Lisbon' });
    const { settings } = later.store.getState();
    expect(settings).toMatchObject({ clinic: 'Clinic North', zone: 'Europe/Lisbon' });
    expect(settings.tablet).not.toBe('');
  });
});
