/** Cases that were closed long before another tablet looks at the store. */
import { MS_PER_DAY } from '../../src/base/units.ts';
import type { Recorded } from '../../src/engine/types.ts';
import { KEPT_DAYS } from '../../src/runtime/sharing/store-only.ts';
import { recorded, stampAt } from '../storage/sample-case.ts';
import type { TestTablet } from './clinic.ts';

const PRESSES = 50;

export const presses = (count: number, from: number): readonly Recorded[] =>
  Array.from({ length: count }, (_, i) =>
    recorded(from + i, { type: 'note-added', words: `Note ${from + i}` }),
  );

/** A tablet by whose clock all of it was long ago. */
export function longAfter(tablet: TestTablet): void {
  tablet.nowMs = stampAt(0).wallMs + (KEPT_DAYS + 1) * MS_PER_DAY;
}

/** A case of a patient, written press by press and closed. */
export async function closedOn(tablet: TestTablet, caseId: string): Promise<void> {
  await tablet.press(caseId);
  for (let n = 1; n <= PRESSES; n += 1) {
    await tablet.journal.append({ caseId, epoch: tablet.epoch, recorded: presses(1, n) });
  }
  const closing = recorded(PRESSES + 1, {
    type: 'case-closed',
    signedBy: 'AN',
    role: 'assistant',
  });
  await tablet.journal.append({ caseId, epoch: tablet.epoch, recorded: [closing] });
}

export async function storeOnlyIds(tablet: TestTablet): Promise<readonly string[]> {
  return (await tablet.database.all('storeOnly')).map(({ caseId }) => caseId);
}
