/** What is worked at: small protocols with every kind of step, on one tooth to four. */

import type { CaseFile } from '../../src/protocol/case-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import {
  caseOf,
  choose,
  coats,
  confirm,
  dwell,
  ETCH_ROUND,
  expose,
  protocolOf,
  SMALL_WHOLE,
  saliva,
  step,
  tally,
  window,
} from '../engine/fixture.ts';
import type { Dice } from './dice.ts';

/** Two clocks on one tooth, and light. */
const QUICK = protocolOf(
  [
    step('ready', 'case', confirm, { paceSeconds: 3 }),
    step('etch', 'tooth', dwell(15, 20, 30), { after: ['ready'] }),
    step('rinse', 'tooth', dwell(5, 8), { after: ['etch/same'] }),
    step('coats', 'tooth', coats(3, 2), { after: ['rinse/same'] }),
    step('light', 'tooth', expose({ surfaces: ['facial', 'lingual'], seconds: 10 }), {
      after: ['coats/same'],
    }),
    step('strips', 'contact', tally(3), { after: ['light'] }),
  ],
  {
    windows: [
      window('wet', 'rinse/end -> coats/start', { maxS: 40, severity: 'serious', amber: true }),
      window('rest', 'etch/start -> light/start', { minS: 45 }),
    ],
    waysBack: [saliva({ until: 'light', voids: ['etch', 'rinse'] })],
  },
);

/** Nothing but long waits side by side: what reloads and sleeps fall into. */
const SLOW = protocolOf([
  step('ready', 'case', confirm),
  step('soak', 'unit', dwell(60, 90, 240), { after: ['ready'] }),
  step('etch', 'tooth', dwell(30, 40, 120), { after: ['ready'] }),
  step('dry', 'tooth', confirm, { after: ['etch', 'soak'] }),
]);

/** As quick as hands can press, so that much happens in an hour. */
const BRISK = protocolOf(
  [
    step('ready', 'case', confirm, { paceSeconds: 1 }),
    step('etch', 'tooth', dwell(2, 3, 6), { after: ['ready'], paceSeconds: 1 }),
    step('rinse', 'tooth', dwell(1, 2), { after: ['etch/same'], paceSeconds: 1 }),
    step('coats', 'tooth', coats(4), { after: ['rinse/same'], paceSeconds: 4 }),
    step('look', 'tooth', choose({ id: 'dull' }, { id: 'wet', redo: ['coats', 'look'] }), {
      after: ['coats/same'],
      paceSeconds: 1,
    }),
    step('light', 'tooth', expose({ surfaces: ['facial', 'lingual'], seconds: 2 }), {
      after: ['look/same'],
    }),
    step('strips', 'contact', tally(3), { after: ['light'], paceSeconds: 1 }),
  ],
  {
    windows: [
      window('wet', 'rinse/end -> coats/start', { maxS: 10, severity: 'serious', amber: true }),
      window('all', 'etch/start -> light/start', { maxS: 60, severity: 'warning' }),
    ],
  },
);

const PROTOCOLS: readonly Protocol[] = [
  ...[BRISK, BRISK, BRISK, BRISK, BRISK, BRISK],
  ...[QUICK, ETCH_ROUND, SMALL_WHOLE, SLOW],
];
const TEETH = ['11', '21', '12', '22'];

export function drawCase(
  dice: Dice,
  id: string,
): { readonly spec: CaseFile; readonly protocol: Protocol } {
  const protocol = dice.of(PROTOCOLS) ?? QUICK;
  const spec = { ...caseOf(TEETH.slice(0, dice.whole(1, protocol === SMALL_WHOLE ? 2 : 4))), id };
  return { spec, protocol };
}
