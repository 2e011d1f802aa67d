// @vitest-environment jsdom
// What the clinic set reaches the files that a record is handed on in.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { RecordSource } from '../../src/export/export-source.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../src/runtime/app-state.ts';
import type { SharedFile } from '../../src/runtime/cases/share.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { RecordShare } from '../../src/ui/record/share/RecordShare.tsx';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

const saved: SharedFile[] = [];
vi.mock('../../src/runtime/cases/share.ts', () => ({
  canShare: () => false,
  saveFile: (file: SharedFile) => saved.push(file),
}));

// Two days before the tablet's clock, so that all of its appointments are over.
const wallMs = NOW_MS - 2 * 86_400_000;
const rehearsed = new Chair(settingOf(ETCH_ROUND, ['11']), { wallMs }).rows(`
  at 0 s   confirm ready case
  at 1 s   start etch 11
  at 21 s  end etch 11
`);
// As it would be of a patient.
const opened = { ...rehearsed.log.state.opened, mode: 'patient' } as const;
const log = { ...rehearsed.log, state: { ...rehearsed.log.state, opened } };
const entries = chainEntries(log.records, { caseId: 'case-1', epoch: 1, prev: NO_ENTRY_HASH });
const source = { log, entries, verification: { goodCount: entries.length, firstBad: null } };

const rehearsal = { ...source, log: rehearsed.log };

async function savedAs(
  form: string,
  settings: Partial<Settings>,
  of: RecordSource = source,
): Promise<string> {
  const session = fakeSession({ settings: { ...DEFAULT_SETTINGS, ...settings } });
  show(<RecordShare caseId="case-1" source={of} />, { session });
  await userEvent.click(screen.getByRole('button', { name: `Save: ${form}` }));
  return String(saved.at(-1)?.content);
}

beforeEach(() => {
  saved.length = 0;
});

describe('the files of a record', () => {
  it('name the system of the chart that the clinic set, and the page says when there is none', async () => {
    const system = 'urn:oid:2.999.1';
    const text = await savedAs('FHIR R4', { chartSystem: system });
    expect(text).toContain(`"system": "${system}"`);
    expect(screen.queryByText(/goes without a system/)).toBeNull();
  });

  it('name none where it is unset or not a complete address', async () => {
    const text = await savedAs('FHIR R4', { chartSystem: '2.999.1' });
    expect(text).not.toContain('2.999.1');
    expect(screen.getByText(/goes without a system: none is set under Clinic/)).toBeVisible();
  });

  it('of a rehearsal go without it, which the page says', async () => {
    const text = await savedAs('FHIR R4', { chartSystem: 'urn:oid:2.999.1' }, rehearsal);
    expect(text).not.toContain('2.999.1');
    expect(screen.getByText(/^A rehearsal: its chart reference goes without/)).toBeVisible();
    expect(screen.queryByText(/none is set/)).toBeNull();
  });

  it('begin with a byte-order mark where the clinic wants it', async () => {
    expect((await savedAs('Steps', { byteOrderMark: true })).codePointAt(0)).toBe(0xfeff);
  });

  it('ring nothing that is over now', async () => {
    const text = await savedAs('Calendar', {});
    expect(text).toContain('BEGIN:VEVENT');
    expect(text).not.toContain('BEGIN:VALARM');
  });
});
