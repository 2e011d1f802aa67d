// @vitest-environment jsdom
// Latest moments by hand: 20 min (Faria-e-Silva, Piva, Moraes, Eur J Dent 2010;4:150-155) before the
// appointment. The calendar file is read back by ical.js (RFC 5545).
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import ICAL from 'ical.js';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { present } from '../../src/base/assert.ts';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import { PreparedCalendar } from '../../src/ui/today/PreparedCalendar.tsx';
import { TodayDue } from '../../src/ui/today/TodayDue.tsx';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

const MINUTE_MS = 60_000;
const inMinutes = (minutes: number): string => new Date(NOW_MS + minutes * MINUTE_MS).toISOString();

const spec = { ...caseNamed('four-veneers-universal'), title: 'Four veneers' };
const entry = {
  protocol: protocolNamed(spec.protocol),
  hash: 'h',
  approval: null,
  origin: 'template' as const,
};
const sessionAt = (scheduledFor: string) =>
  fakeSession({ prepared: [{ ...spec, scheduledFor }], protocols: [entry] });

describe('due and overdue', () => {
  it('says in one line how many cases lack a material on their day, and where it is told', () => {
    const session = sessionAt(inMinutes(6 * 24 * 60));
    const stock = createStore<StockState>(() => ({
      ...session.stock.state.getState(),
      materials: entry.protocol.slots.slice(0, 1).map(({ materialClass }) => ({
        ...{ id: 'm', materialClass, label: 'Acid', lot: 'L1', refrigerated: false },
        expiry: '2026-11-27',
      })),
    }));
    show(<TodayDue />, { session: { ...session, stock: { ...session.stock, state: stock } } });
    const line = screen.getByRole('link', { name: '1 prepared case lacks a material on its day' });
    expect(line).toHaveAttribute('href', '/materials');
  });

  it('says in words by how much a material is late, each by itself', () => {
    show(<TodayDue />, { session: sessionAt(inMinutes(8)) });
    const one = screen.getByRole('listitem', { name: 'Four veneers' });
    const lines = within(one).getAllByRole('listitem');
    expect(lines.map((line) => line.textContent)).toEqual([
      'Adhesive out by today 07:08Overdue by 52\u00a0min',
      'Cement out by today 07:08Overdue by 52\u00a0min',
      'Appointment today 08:088\u00a0min left',
    ]);
  });

  it('says how long is left, and nothing where nothing is due', () => {
    show(<TodayDue />, { session: sessionAt(inMinutes(105)) });
    expect(screen.getByText('Cement out by today 08:45')).toBeVisible();
    expect(screen.getAllByText('45 min left')).toHaveLength(2);
  });

  it('names what goes out at one moment, hours away, in one sentence', () => {
    show(<TodayDue />, { session: sessionAt(inMinutes(5 * 60)) });
    expect(screen.getByText('Adhesive and Cement out by today 12:00')).toBeVisible();
  });

  it('is empty for a case that is days away', () => {
    show(<TodayDue />, { session: sessionAt(inMinutes(5 * 24 * 60)) });
    expect(screen.queryByText(/out by/)).toBeNull();
  });
});

function textOf(file: File): Promise<string> {
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.readAsText(file);
  });
}

describe('the calendar of a prepared case', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('says that the file was saved where nothing can be shared', async () => {
    vi.stubGlobal('URL', { createObjectURL: () => 'blob:x', revokeObjectURL: () => undefined });
    const scheduledFor = inMinutes(24 * 60);
    show(<PreparedCalendar spec={{ ...spec, scheduledFor }} />, {
      session: sessionAt(scheduledFor),
    });
    await userEvent.click(screen.getByRole('button', { name: 'Calendar of Four veneers' }));
    expect(await screen.findByRole('status')).toHaveTextContent('Saved as a calendar file.');
  });

  it('goes to the share sheet as a file that another reader understands', async () => {
    const share = vi.fn<(data: { files: File[] }) => Promise<void>>(async () => undefined);
    vi.stubGlobal('navigator', { ...navigator, share, canShare: () => true });
    const scheduledFor = inMinutes(24 * 60);
    show(<PreparedCalendar spec={{ ...spec, scheduledFor }} />, {
      session: sessionAt(scheduledFor),
    });
    await userEvent.click(screen.getByRole('button', { name: 'Calendar of Four veneers' }));
    expect(await screen.findByRole('status')).toHaveTextContent('Shared as a calendar file.');
    const file = present(share.mock.calls[0]?.[0].files[0], 'a file');
    expect([file.name, file.type]).toEqual(['SB-0431.ics', 'text/calendar']);
    const text = await textOf(file);
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent');
    const titles = events.map((e) => String(e.getFirstPropertyValue('summary')));
    expect(titles).toEqual([
      'Preparation: SB-0431',
      'Cementation: SB-0431',
      'Finishing visit: SB-0431',
      'Preparation, day before: SB-0431',
    ]);
  });
});
