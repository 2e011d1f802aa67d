/** States of sharing that are looked at: in pictures, and by the checks of each page. Invented names. */
import { MS_PER_MINUTE, MS_PER_SECOND } from '../../src/base/units.ts';
import type { Conflict } from '../../src/runtime/sharing/conflicts.ts';
import {
  NOT_SHARING,
  type PairingState,
  type SharingState,
} from '../../src/runtime/sharing/sharing-state.ts';

/** 2026-11-25, 09:20 UTC. */
export const LOOKED_AT_MS = Date.UTC(2026, 10, 25, 9, 20);

const A = '6f1d2c3e-0000-4000-8000-00000000000a';
const B = '6f1d2c3e-0000-4000-8000-00000000000b';
const C = '6f1d2c3e-0000-4000-8000-00000000000c';
export const THIS = A;
export const OTHER = B;

export const PAIRED: SharingState = {
  ...NOT_SHARING,
  standing: 'paired',
  name: 'Chair 1',
  line: 'open',
  sharedAtWallMs: LOOKED_AT_MS - 3 * MS_PER_SECOND,
  tablets: [
    {
      device: A,
      name: 'Chair 1',
      isThis: true,
      standing: 'paired',
      lastContactWallMs: LOOKED_AT_MS,
      owes: 0,
      runs: null,
    },
    {
      device: B,
      name: 'Chair 2',
      isThis: false,
      standing: 'paired',
      lastContactWallMs: LOOKED_AT_MS - 2 * MS_PER_SECOND,
      owes: 4,
      runs: { caseId: 'case-b', title: 'Two veneers, T-104' },
    },
    {
      device: C,
      name: 'Old tablet',
      isThis: false,
      standing: 'put-out',
      lastContactWallMs: LOOKED_AT_MS - 26 * 60 * MS_PER_MINUTE,
      owes: null,
      runs: null,
    },
  ],
  box: { sealedAtWallMs: LOOKED_AT_MS - 60 * MS_PER_MINUTE, isKept: true },
};

const BEHIND: SharingState = {
  ...PAIRED,
  line: 'connecting',
  sharedAtWallMs: LOOKED_AT_MS - 8 * MS_PER_MINUTE,
  behindSinceWallMs: LOOKED_AT_MS - 8 * MS_PER_MINUTE,
  owed: 12,
  box: { sealedAtWallMs: LOOKED_AT_MS - 60 * MS_PER_MINUTE, isKept: false },
  refused: [
    { code: 'bad-signature', device: B, count: 3 },
    { code: 'put-out', device: C, count: 1 },
    { code: 'no-key', device: 'a1b2c3d4-0000', count: 2 },
  ],
  wentBackAtWallMs: LOOKED_AT_MS - 5 * MS_PER_MINUTE,
  conflicts: 3,
  problem: 'store-full',
};

/** The first reading of a store that is for trying. */
const READING: SharingState = {
  ...PAIRED,
  isDemo: true,
  sharedAtWallMs: null,
  behindSinceWallMs: LOOKED_AT_MS - MS_PER_MINUTE,
  catchUp: { done: 1200, of: 9000 },
};

const PUT_OUT: SharingState = { ...PAIRED, standing: 'put-out', line: 'refused' };

const teller = (tablet: string, by: string | null, minutesAgo: number) => ({
  tablet,
  by,
  atWallMs: LOOKED_AT_MS - minutesAgo * MS_PER_MINUTE,
});

/** Without the prepared case, which a test takes from the demonstration. */
export const CONFLICTS: readonly Conflict[] = [
  {
    kind: 'protocol',
    id: 'own-protocol',
    title: 'Thin veneers, our way',
    revision: 4,
    sides: [
      { ...teller(A, 'Dr I', 300), hash: 'a1'.repeat(32) },
      { ...teller(B, 'Dr I', 290), hash: 'b2'.repeat(32) },
    ],
  },
  {
    kind: 'fork',
    id: 'case-f',
    at: 41,
    sides: [
      { ...teller(A, null, 90), entries: 12 },
      { ...teller(B, null, 89), entries: 3 },
    ],
  },
  {
    kind: 'material',
    id: 'gel',
    label: 'Etch gel, shelf 2',
    lot: 'L-204',
    field: 'expiry',
    sides: [
      { ...teller(A, null, 30), value: '2027-03-31' },
      { ...teller(B, 'M', 28), value: '2028-03-31' },
    ],
  },
  {
    kind: 'sheet',
    id: 'sheet-1',
    title: 'Instructions for the gel',
    sides: [
      { ...teller(A, 'Dr I', 600), revision: '2026-03', lines: 12 },
      { ...teller(C, 'Dr I', 500), revision: '2026-03', lines: 11 },
    ],
  },
  {
    kind: 'visits',
    id: 'case-v',
    title: 'Two upper veneers',
    of: 'same-day',
    unit: '11',
    sides: [
      {
        ...teller(A, 'TK', 20),
        onDay: '2026-11-09',
        found: { unit: '11', findings: ['in-place'] },
      },
      {
        ...teller(B, 'RS', 19),
        onDay: '2026-11-09',
        found: { unit: '11', findings: ['lost-retention'], done: 'left' },
      },
    ],
  },
  {
    kind: 'question',
    id: 'question',
    sides: [
      {
        ...teller(A, 'Dr I', 700),
        question: { endPoint: 'retention', limits: ['window/open'], onDay: '2026-11-02' },
      },
      {
        ...teller(B, null, 690),
        question: {
          endPoint: 'success',
          limits: [],
          accepted: { success: 0.08 },
          onDay: '2026-11-03',
        },
      },
    ],
  },
];

/** Lines of eight groups of four, as many as a real box has. */
export const BOX_TEXT = Array.from({ length: 40 }, (_, line) =>
  Array.from(
    { length: 8 },
    (__, n) => ['0K7Q', 'M3XW', '9DTR', 'PB4F', 'C6HN'][(n * 7 + line) % 5],
  ).join(' '),
).join('\n');

export interface Look {
  readonly name: string;
  readonly path: string;
  readonly sharing: SharingState;
  /** What the button of that name begins. */
  readonly press?: string;
  readonly pairing?: PairingState;
  readonly isInChair?: true;
}

const PAIRING: PairingState = {
  side: 'lead',
  step: 'waiting',
  code: 'K7QZ-M3XW-9DTR-PB4F',
  digits: null,
  name: null,
  untilWallMs: LOOKED_AT_MS + 9.5 * MS_PER_MINUTE,
  founds: false,
  problem: null,
};

const PAGE = '/clinic/tablets';

/** Every state that a person meets. `press` names what is filled in and pressed first. */
export const LOOKS: readonly Look[] = [
  { name: 'alone', path: PAGE, sharing: NOT_SHARING },
  { name: 'alone-wrong', path: PAGE, sharing: NOT_SHARING, press: 'Join' },
  {
    name: 'new-waiting',
    path: PAGE,
    sharing: NOT_SHARING,
    press: 'Join',
    pairing: { ...PAIRING, side: 'new', code: null },
  },
  {
    name: 'new-compare',
    path: PAGE,
    sharing: NOT_SHARING,
    press: 'Join',
    pairing: { ...PAIRING, side: 'new', code: null, step: 'compare', digits: '042917' },
  },
  {
    name: 'new-failed',
    path: PAGE,
    sharing: NOT_SHARING,
    press: 'Join',
    pairing: { ...PAIRING, side: 'new', code: null, step: 'failed', problem: 'code-expired' },
  },
  {
    name: 'founding',
    path: PAGE,
    sharing: NOT_SHARING,
    press: 'Join',
    pairing: { ...PAIRING, side: 'new', code: null, step: 'done', founds: true },
  },
  { name: 'paired', path: PAGE, sharing: PAIRED },
  { name: 'behind', path: PAGE, sharing: BEHIND },
  { name: 'reading', path: PAGE, sharing: READING },
  { name: 'put-out', path: PAGE, sharing: PUT_OUT },
  { name: 'lead-code', path: PAGE, sharing: PAIRED, press: 'Show a code', pairing: PAIRING },
  {
    name: 'lead-compare',
    path: PAGE,
    sharing: PAIRED,
    press: 'Show a code',
    pairing: { ...PAIRING, step: 'compare', code: null, digits: '042917', name: 'Chair 3' },
  },
  { name: 'sheet-put-out', path: PAGE, sharing: PAIRED, press: 'Put out Chair 2' },
  { name: 'sheet-rename', path: PAGE, sharing: PAIRED, press: 'Rename Chair 2' },
  { name: 'sheet-leave', path: PAGE, sharing: BEHIND, press: 'Leave the store' },
  { name: 'box', path: `${PAGE}/box`, sharing: { ...PAIRED, isDemo: true } },
  { name: 'conflicts', path: `${PAGE}/conflicts`, sharing: BEHIND },
  { name: 'today-behind', path: '/', sharing: BEHIND },
  { name: 'today-demo', path: '/', sharing: { ...PAIRED, isDemo: true } },
  { name: 'clinic', path: '/clinic', sharing: PAIRED },
  { name: 'chair-shared', path: '/chair', sharing: PAIRED, isInChair: true },
  { name: 'chair-behind', path: '/chair', sharing: { ...BEHIND, isDemo: true }, isInChair: true },
  {
    name: 'far-view-demo',
    path: '/far-view',
    sharing: { ...PAIRED, isDemo: true },
    isInChair: true,
  },
];
