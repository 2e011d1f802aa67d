/**
 * A tablet on which the first version confirmed a protocol, under a template that has changed since.
 * The changes and their reasons are invented.
 */
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import type { ProtocolEntry } from '../../src/runtime/app-state.ts';
import { readRevisions } from '../../src/runtime/lead/lead-revisions.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { keptDocument, keptDocuments } from '../fixtures/kept-files.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

const ID = 'thin-veneers-separate-bottle-etch-and-rinse';
export const CONFIRMED = `${ID}@2`;

export function confirmedProtocol(): Protocol {
  const parsed = parseProtocol(keptDocument('protocol', CONFIRMED));
  if (!parsed.ok) throw new Error('the confirmed revision does not parse');
  return parsed.value;
}

/** A device that holds every document of the first version's tablet. */
export async function keptDevice() {
  const device = createMemoryDevice();
  const journal = createMemoryJournal(device);
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  for (const { kind, id, value } of keptDocuments()) {
    if (value === null) continue;
    await journal.documents.put({ kind, id, value, epoch: begun.value.epoch });
  }
  await journal.stopWriting();
  return device;
}

const at = (part: 'steps' | 'cautions', id: string, key: string) => ({ part, id, key }) as const;

/** The template as it is said to be now: changed in four places, of which nobody told about the last. */
export function newTemplate(...more: readonly Edit[]): Protocol {
  const before = confirmedProtocol();
  const etch = before.steps.find(({ id }) => id === 'etch');
  if (etch === undefined) throw new Error('no etch');
  const changed = replayEdits(before, [
    {
      do: 'set-figure',
      spot: at('steps', 'etch', 'action.maxMs'),
      figure: { value: 25_000, basis: { kind: 'practice' } },
    },
    {
      do: 'add',
      part: 'cautions',
      item: { id: 'look-first', words: 'Look at the tooth first.' },
      before: null,
    },
    {
      do: 'add',
      part: 'steps',
      item: {
        id: 'looked',
        stage: etch.stage,
        title: 'Look',
        per: 'tooth',
        after: [],
        by: 'dentist',
        cautions: ['look-first'],
        action: { kind: 'confirm' },
        pace: etch.pace,
      },
      before: 'etch',
    },
    { do: 'set-text', spot: at('steps', 'etch', 'instruction'), text: 'From the rim inwards.' },
    { do: 'set-text', spot: at('steps', 'seat', 'title'), text: 'Seat unit' },
    ...more,
  ]);
  if (!changed.ok) throw new Error(changed.error[0]?.place);
  return { ...changed.value, revision: 3 };
}

export const ROWS = [
  {
    protocol: ID,
    place: 'steps/etch/instruction',
    now: 'From the rim inwards.',
    hurts: false,
    reason: 'The old words left the rim to chance.',
  },
  {
    protocol: ID,
    place: 'steps/etch/action.maxMs',
    was: 30_000,
    now: 25_000,
    hurts: true,
    reason: 'Longer acid harms the tooth.',
    source: 'A journal 2020;1:2',
  },
  {
    protocol: ID,
    place: 'steps/looked/added',
    hurts: true,
    reason: 'Nobody was told to look.',
  },
];

/** What is in force on the tablet. */
export async function entryInForce(journal: Journal): Promise<ProtocolEntry> {
  const { all } = await readRevisions(journal);
  const found = all.find(
    (r) => r.protocol.id === ID && r.approval !== null && r.retirement === null,
  );
  if (found === undefined) throw new Error('nothing is in force');
  const { protocol, hash, approval } = found;
  return { protocol, hash, approval, origin: 'own' };
}
