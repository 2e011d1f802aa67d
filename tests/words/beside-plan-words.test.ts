/** What a plan says of anaesthesia and rests, as it stands on the screen and in the terminal. */
import { expect, it } from 'vitest';
import type { Bar } from '../../src/plan/timeline.ts';
import { besidePlanLines } from '../../src/words/beside-plan-words.ts';
import { confirm, protocolOf, settingOf, step } from '../engine/fixture.ts';

const MINUTE_MS = 60_000;
const protocol = protocolOf([
  step('rinse', 'tooth', confirm, { mayHurt: true }),
  step('air', 'tooth', confirm, { after: ['rinse/same'], mayHurt: true }),
]);
const bar = (name: string, tooth: string, minute: number): Bar => ({
  id: `${name} ${tooth}`,
  step: name,
  subjects: [`tooth:${tooth}`],
  round: 0,
  part: 'hands',
  by: 'dentist',
  usesLight: false,
  because: { kind: 'opening', step: null, subjects: [], plusMs: 0 },
  startMs: minute * MINUTE_MS,
  endMs: (minute + 1) * MINUTE_MS,
  slackMs: 0,
});

function told(bars: readonly Bar[]): readonly string[] {
  const { spec } = settingOf(protocol, ['11', '12']);
  const anaesthesia = { agent: 'lidocaine-100', technique: 'upper-infiltration' };
  const naming = { protocol, spec: { ...spec, anaesthesia } };
  const lines = besidePlanLines({ bars, bands: [], startMs: 0 }, naming);
  return lines.map((line) => line.replaceAll('\u00a0', ' '));
}

it('says when the pulp is published to wake, and names each step behind the warning once', () => {
  // Onset 2.8 min, pulp 39 min (Quintessence Int 2005;36:197): given at 7.2, warned from 38.4 min.
  const late = [bar('rinse', '11', 40), bar('rinse', '12', 41), bar('air', '11', 43)];
  const lines = told([bar('rinse', '11', 10), ...late]);
  expect(lines).toContain(
    'By the published figure the pulp wakes about 46 min from the start; warned from 38 min.',
  );
  expect(lines).toContain(
    'After the warning, minutes from the start: rinse (40 min) and air (43 min). A top-up is likely.',
  );
});

it('says that it lasts where it does', () => {
  expect(told([bar('rinse', '11', 10)])).toContain(
    'All steps that may hurt are planned before that.',
  );
});

it('tells rests in a row as one stretch', () => {
  expect(told([bar('rinse', '11', 10), bar('air', '11', 12)]).slice(-2)).toEqual([
    'A rest of 5 min breaks no limit:',
    '10 min, before “rinse, 11”; to 12 min, before “air, 11”; rinse too',
  ]);
});
