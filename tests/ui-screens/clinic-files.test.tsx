// @vitest-environment jsdom
// What a clinic says of its files and hours: saved as it is typed, and told at the field where it is wrong.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { Clinic } from '../../src/ui/clinic/Clinic.tsx';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 30_000 });

function shown(settings: Partial<typeof DEFAULT_SETTINGS> = {}) {
  const session = fakeSession({ settings: { ...DEFAULT_SETTINGS, ...settings } });
  show(<Clinic />, { session, path: '/clinic' });
  return session;
}

const field = (name: string) => screen.getByRole('textbox', { name });

async function write(name: string, text: string): Promise<void> {
  await userEvent.clear(field(name));
  await userEvent.click(field(name));
  await userEvent.paste(text);
}

describe('what the clinic says of its files', () => {
  it('says at the field that a chart system is not a complete address, and keeps a good one', async () => {
    const session = shown();
    const name = 'System of the chart references';
    expect(field(name)).not.toBeInvalid();
    await write(name, '2.16.840.1.113883.19.5');
    expect(field(name)).toBeInvalid();
    expect(field(name)).toHaveAccessibleDescription(/urn:oid: and the number/);
    await write(name, 'urn:oid:2.16.840.1.113883.19.5');
    expect(field(name)).not.toBeInvalid();
    expect(session.saveSettings.mock.lastCall?.[0].chartSystem).toBe(
      'urn:oid:2.16.840.1.113883.19.5',
    );
  });

  it('says which line of the codes cannot be read, and that codes need a system', async () => {
    const session = shown();
    await write('Procedure codes', 'veneer = 1\ncrown');
    expect(field('Procedure codes')).toHaveAccessibleDescription(/Line 2 cannot be read/);
    expect(field('Code system of the procedures')).toHaveAccessibleDescription(/need a system/);
    await write('Code system of the procedures', 'https://codes.example');
    expect(field('Code system of the procedures')).not.toBeInvalid();
    expect(session.saveSettings.mock.lastCall?.[0].procedureSystem).toBe('https://codes.example');
  });

  it('keeps whether tables begin with a byte-order mark', async () => {
    const session = shown();
    await userEvent.click(screen.getByRole('checkbox', { name: /byte-order mark/ }));
    expect(session.saveSettings.mock.lastCall?.[0].byteOrderMark).toBe(true);
  });
});

describe('opening hours', () => {
  it('are typed by the day, told where they cannot be read, and copied to Friday', async () => {
    const session = shown({ openingHours: ['', '', '', '', '', '9-13'] });
    const copy = screen.getByRole('button', { name: 'Tuesday to Friday as Monday' });
    expect(copy).toBeDisabled();
    await write('Monday', '18-8');
    expect(field('Monday')).toBeInvalid();
    expect(field('Monday')).toHaveAccessibleDescription(/the earlier first/);
    expect(copy).toBeDisabled();
    await write('Monday', '08:00-12:30, 14-18');
    await userEvent.click(copy);
    const day = '08:00-12:30, 14-18';
    expect(session.saveSettings.mock.lastCall?.[0].openingHours).toEqual([
      day,
      day,
      day,
      day,
      day,
      '9-13',
      '',
    ]);
  });
});
