/** The families from the terminal: every prepared case, and the scripts in which something happens. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';

const FOLLOW = 'demo-data/scripts/follow-eight.json';
const fromRoot = (path: string): URL => new URL(`../../${path}`, import.meta.url);

async function rehearsed(caseName: string, script: string) {
  let out = '';
  let err = '';
  const code = await main(['rehearse', `demo-data/cases/${caseName}.json`, script], {
    readFile: async (path) => readFileSync(path.startsWith('/') ? path : fromRoot(path), 'utf8'),
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

const cases = readdirSync(fromRoot('demo-data/cases')).map((file) => file.replace('.json', ''));

describe('rehearse', () => {
  it.each(cases)(
    'plays the prepared case %s from opening to sign-off',
    async (name) => {
      const { code, out, err } = await rehearsed(name, FOLLOW);
      expect([code, err]).toEqual([0, '']);
      expect(out).toMatch(/revision 1: finished at /);
      expect(out).toContain('limits not kept: 0');
    },
    60_000,
  );

  it.each([
    ['four-veneers-universal', 'four-veneers-saliva', 'way-back-taken etched-saliva saliva'],
    ['four-veneers-universal', 'four-veneers-astringent', 'way-back-taken haemostatic-on-tooth'],
    ['two-veneers', 'two-veneers-stopped', 'teeth-covered'],
    ['onlay-and-crown', 'onlay-and-crown-late-mix', 'cement-mixed@mix:1'],
    ['zirconia-crown-and-wing-bridge', 'zirconia-saliva-in-unit', 'abrade@unit:15 dust-off@'],
    [
      'two-composite-inlays',
      'composite-stopped',
      'seal-cleaned@tooth:16 field-isolated@case dam-pieces-in@case fire alarm',
    ],
    ['finish-two-veneers', 'finish-with-a-catch', 'presses: '],
  ])(
    'plays %s with %s',
    async (name, script, told) => {
      const { code, out } = await rehearsed(name, `demo-data/scripts/${script}.json`);
      expect(code).toBe(0);
      expect(out).toContain(told);
      expect(out).toMatch(/revision 1: finished at /);
    },
    60_000,
  );
});
