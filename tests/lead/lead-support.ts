/** A clinic lead's desk on a journal in memory, with clocks and timers that the test moves. */
import { webcrypto } from 'node:crypto';
import shipped from '../../shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json' with {
  type: 'json',
};
import { monoMs, wallMs } from '../../src/base/units.ts';
import { parseCorrections } from '../../src/protocol/corrections.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Basis, Protocol } from '../../src/protocol/types.ts';
import { takeOverFacts } from '../../src/runtime/facts/take-over-facts.ts';
import { readThisTablet } from '../../src/runtime/facts/this-tablet.ts';
import { LeadDesk } from '../../src/runtime/lead/lead.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

export const PERSON = 'Clinic lead C';
export const PASSPHRASE = 'four tides and a kettle';

export const instruction: Basis = {
  kind: 'instructions',
  document: 'Etching gel, instructions for use',
  revision: '2026-04',
  page: '2',
  confirmedBy: PERSON,
  confirmedOn: '2026-11-25',
};

export function template(): Protocol {
  const parsed = parseProtocol(shipped);
  if (!parsed.ok) throw new Error('the shipped template does not parse');
  return parsed.value;
}

export interface TestDesk {
  readonly desk: LeadDesk;
  readonly journal: ReturnType<typeof createMemoryJournal>;
  readonly device: ReturnType<typeof createMemoryDevice>;
  readonly epoch: number;
  /** Lets `ms` pass, and runs what was to happen in between. */
  pass(ms: number): Promise<void>;
}

let tablets = 0;

/** A desk on its own tablet, or on that of `device`. */
export async function openDesk(
  device = createMemoryDevice(),
  o: {
    readonly templates?: readonly Protocol[];
    readonly corrections?: unknown;
    readonly clinic?: string;
  } = {},
): Promise<TestDesk> {
  const journal = createMemoryJournal(device);
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  const { epoch } = begun.value;
  tablets += 1;
  const tablet = { tablet: `tablet-${tablets}` };
  const settings = await journal.documents.get('settings', { id: 'this-tablet' });
  if (settings.ok && settings.value === null) {
    await journal.documents.put({ kind: 'settings', id: 'this-tablet', value: tablet, epoch });
  }
  const here = await readThisTablet(journal);
  if (!here.ok) throw new Error('the tablet does not answer');
  await takeOverFacts(journal, { epoch, tablet: here.value.tablet });
  let nowMs = 0;
  let timers: { readonly atMs: number; readonly run: () => void }[] = [];
  let ids = 0;
  const desk = new LeadDesk({
    journal,
    clock: {
      stamp: () => ({
        wallMs: wallMs(1_780_000_000_000 + nowMs),
        monoMs: monoMs(nowMs),
        runId: 'run-1',
      }),
      speed: 1,
      toRealDelayMs: (ms) => ms,
    },
    timers: {
      after: (delayMs, run) => {
        const timer = { atMs: nowMs + delayMs, run };
        timers.push(timer);
        return () => {
          timers = timers.filter((other) => other !== timer);
        };
      },
    },
    crypto: webcrypto as unknown as Crypto,
    newId: () => {
      ids += 1;
      return `draft-${ids}`;
    },
    sender: () => ({ clinic: o.clinic ?? '', ...tablet }),
    epoch: () => epoch,
    templates: () => o.templates ?? [template()],
    corrections: async () => parseCorrections(o.corrections ?? []),
    onChanged: async () => undefined,
  });
  await desk.refresh();
  const pass = async (ms: number): Promise<void> => {
    nowMs += ms;
    const due = timers.filter((timer) => timer.atMs <= nowMs);
    timers = timers.filter((timer) => timer.atMs > nowMs);
    for (const timer of due) timer.run();
    await new Promise((resolve) => setTimeout(resolve, 20));
  };
  return { desk, journal, device, epoch, pass };
}
