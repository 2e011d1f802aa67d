// @vitest-environment jsdom
// The files of a follow-up as a screen hands them on: the same bytes as the functions that make them.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { followUpFile } from '../../src/export/follow-up-forms.ts';
import { readFollowUpFile } from '../../src/export/follow-up-json.ts';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import type { SharedFile } from '../../src/runtime/cases/share.ts';
import { FollowUpExport } from '../../src/ui/shared/FollowUpExport.tsx';
import {
  type FollowedClinic,
  followedClinic,
  followUpsOf,
  TODAY,
} from '../export/follow-up-clinic.ts';
import { fakeSession, show } from './fake-session.tsx';

const saved: SharedFile[] = [];
vi.mock('../../src/runtime/cases/share.ts', () => ({
  canShare: () => false,
  saveFile: (file: SharedFile) => saved.push(file),
}));

let clinic: FollowedClinic;
const system = { ...DEFAULT_SETTINGS, chartSystem: 'https://charts.example/clinic' };

beforeAll(async () => {
  clinic = await followedClinic();
});

beforeEach(() => {
  saved.length = 0;
});

async function savedAs(form: string, o: { caseId?: string; isBroken?: boolean } = {}) {
  const session = Object.assign(fakeSession({ settings: system }), {
    followUps: async () => {
      if (o.isBroken) throw new Error('not loaded');
      return clinic.followUps;
    },
    readCase: async () => ({
      ok: true,
      value: { reading: { entries: [{ hash: 'b'.repeat(64) }] } },
    }),
  });
  const { caseId } = o;
  show(<FollowUpExport {...(caseId === undefined ? {} : { caseId })} />, { session });
  await userEvent.click(screen.getByRole('button', { name: `Save: ${form}` }));
  await screen.findByRole('status');
  return saved.at(-1);
}

describe('the files of a follow-up', () => {
  it('are a table of every case, which the page names', async () => {
    const file = await savedAs('Lives and visits');
    expect(file?.content).toBe(
      followUpFile({ followUps: followUpsOf(clinic), today: TODAY }, 'csv').text,
    );
    expect(screen.getByText('Saved as lives-2026-12-01.csv.')).toBeVisible();
  });

  it('name the system of the chart and, of one case, its record', async () => {
    const text = String((await savedAs('Follow-up in FHIR R4', { caseId: 'case-1' }))?.content);
    expect(text).toContain('"system": "https://charts.example/clinic"');
    expect(text).toMatch(/"type": "Procedure",\n\s+"identifier"/);
    expect(screen.queryByText(/goes without a system/)).toBeNull();
  });

  it('are the entries themselves, which can be read back', async () => {
    const file = await savedAs('Entries of the follow-up', { caseId: 'case-1' });
    expect(file?.name).toBe('C-101-lives-2026-12-01.entries.json');
    expect(readFollowUpFile(String(file?.content))).toMatchObject({
      ok: true,
      value: {
        today: TODAY,
        problems: [],
        followUps: followUpsOf(clinic).filter(({ caseId }) => caseId === 'case-1'),
      },
    });
  });

  it('are none where they cannot be made, and the page says so', async () => {
    expect(await savedAs('Lives and visits', { isBroken: true })).toBeUndefined();
    expect(screen.getByText('The file could not be made.')).toBeVisible();
  });
});
