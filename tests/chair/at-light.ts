/**
 * A rehearsal of three veneers that are seated, its light short and paced, as a backup: what a browser is
 * given to go on from.
 */
import { webcrypto } from 'node:crypto';
import { present } from '../../src/base/assert.ts';
import type { Pressed } from '../../src/engine/commands.ts';
import { caseOf, confirm, expose, protocolOf, secondsFigure, step } from '../engine/fixture.ts';
import { fakeTime, settle } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';

/** An invented passphrase for a test file. */
export const PASSPHRASE = 'ebb tide over quiet sand';
export const TEETH = ['11', '21', '12'];

/** Light on one place, and the change-over to the next. */
interface Paced {
  readonly litS: number;
  readonly changeS: number;
  /** The step whose press confirms the pass as well. */
  readonly confirmedBy?: string;
}

const HEARD = 'Sound heard, no pedal';

export const pacedProtocol = ({ litS, changeS, confirmedBy }: Paced) =>
  protocolOf([
    step('signals', 'case', {
      kind: 'confirm',
      evidence: {
        kind: 'choice',
        options: [
          { id: 'sound-only', label: HEARD },
          { id: 'screen-only', label: 'Screen only today' },
        ],
      },
    }),
    step('seat', 'unit', confirm, { after: ['signals'], title: 'Seating' }),
    step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: litS }), {
      after: ['seat'],
      title: 'Light',
      pressed: {
        kind: 'paced',
        changeMs: secondsFigure(changeS),
        ...(confirmedBy === undefined ? {} : { confirmedBy }),
      },
    }),
    step('look', 'unit', confirm, { after: ['expose/same'] }),
  ]);

/** The backup of a tablet on which that case was left a minute before `nowMs`. */
export async function atLightBackup(nowMs: number, paced: Paced): Promise<Uint8Array> {
  const time = fakeTime({ wallMs: nowMs - 60_000 });
  const session = quietSession({
    journal: createMemoryJournal(),
    protocols: [pacedProtocol(paced)],
    cases: [],
    crypto: webcrypto as unknown as Crypto,
    time,
    run: 'made-',
  });
  await session.start();
  const opened = await session.openCase({ spec: caseOf(TEETH), mode: 'rehearsal', speed: 1 });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  const press = async (offer: Pressed, evidence?: string) => {
    time.pass(1000);
    const no = session.do({ do: 'press', offer, ...(evidence === undefined ? {} : { evidence }) });
    if (no !== null) throw new Error(JSON.stringify(no));
    await settle();
  };
  await press({ kind: 'confirm', step: 'signals', subjects: ['case'] }, HEARD);
  for (const tooth of TEETH) {
    await press({ kind: 'confirm', step: 'seat', subjects: [`unit:${tooth}`] });
  }
  const file = await session.casesList.backUp(PASSPHRASE, () => undefined);
  const backup = present(file.ok ? file.value : null, 'the backup');
  return new Uint8Array(await backup.arrayBuffer());
}
