/** A tablet with its drills on a journal in memory, and drills that were done there. */
import { webcrypto } from 'node:crypto';
import type { Pair } from '../../src/drill/pair.ts';
import type { Mishap } from '../../src/protocol/types.ts';
import { DRILL, type KeptDrill, NO_NOTES } from '../../src/runtime/drills/drill-document.ts';
import { must } from '../backup/filled-journal.ts';
import { drillCaseOf } from '../drill/drill-case.ts';
import { fakeTime } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';
import { NOW_WALL_MS } from './drilled-app.ts';

const DAY_MS = 86_400_000;

export interface Done {
  /** How many days ago. */
  readonly ago: number;
  readonly pair?: Pair;
  readonly mishap?: Mishap;
  readonly isRight?: boolean;
  readonly easier?: string;
}

/** What is kept of the nth drill. */
export function keptOf(
  { ago, pair, mishap = 'saliva', isRight = true, easier = '' }: Done,
  n: number,
) {
  const kept: KeptDrill = {
    caseId: `drill-${n}`,
    seed: n,
    protocolHash: 'a'.repeat(64),
    atWallMs: NOW_WALL_MS - ago * DAY_MS,
    ...(pair === undefined ? {} : { pair }),
    kinds: [{ mishap, isRightFirst: isRight, isInTime: isRight }],
    notes: { ...NO_NOTES, easier },
  };
  return kept;
}

/** A tablet on which these drills were done. */
export async function tabletWithDrills(done: readonly Done[]) {
  const device = createMemoryDevice();
  const before = createMemoryJournal(device);
  must(await before.open());
  const { epoch } = must(await before.startWriting());
  for (const value of done.map(keptOf)) {
    must(await before.documents.put({ kind: DRILL, id: value.caseId, value, epoch }));
  }
  const time = fakeTime({ wallMs: NOW_WALL_MS });
  const { protocol } = drillCaseOf('two-veneers');
  const crypto = webcrypto as never;
  const journal = createMemoryJournal(device);
  const session = quietSession({ journal, protocols: [protocol], cases: [], time, crypto });
  await session.start();
  /** Another window of the tablet. */
  const elsewhere = createMemoryJournal(device);
  return {
    session,
    time,
    journal,
    elsewhere,
    drills: await session.drills(),
    desk: await session.lead(),
  };
}
