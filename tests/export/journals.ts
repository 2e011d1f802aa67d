/**
 * Journals for the tests of the record's forms: a small case with everything that can happen in
 * one, a whole followed case of the shipped template, and random walks. All invented.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { wallMs } from '../../src/base/units.ts';
import { readDeviceLabel } from '../../src/calc/udi/udi.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import type { MaterialLot } from '../../src/engine/material-types.ts';
import type { Recorded } from '../../src/engine/types.ts';
import type { MaterialUse, RecordSource } from '../../src/export/export-source.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import { chainEntries, NO_ENTRY_HASH, verifyChain } from '../../src/storage/hash-chain.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import { Chair } from '../engine/chair.ts';
import { type Setting, SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow } from '../engine/walks.ts';
import { materialUse } from './material-use.ts';

const fromRoot = (path: string): string =>
  readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** The shipped demonstration cases. */
export const DEMO_CASES = readdirSync(new URL('../../demo-data/cases', import.meta.url))
  .map((file) => file.replace(/[.]json$/, ''))
  .sort();

/** A shipped demonstration case with its shipped protocol. */
export function templateSetting(name: string): Setting {
  const spec = parseCaseText(fromRoot(`demo-data/cases/${name}.json`));
  if (!spec.ok) throw new Error(JSON.stringify(spec.error));
  const protocol = parseProtocolText(fromRoot(`shared/protocols/${spec.value.protocol}.json`));
  if (!protocol.ok) throw new Error(JSON.stringify(protocol.error));
  return {
    spec: spec.value,
    protocol: protocol.value,
    plan: makeRunPlan(spec.value, protocol.value),
  };
}

const LABEL = { text: ']d20109504000059118172712311042A', issuer: 'GS1' } as const;

/** One lot for each slot of the protocol, the first one scanned, and a trial of a shade. */
function nameMaterials(chair: Chair): void {
  for (const [n, slot] of chair.log.state.opened.protocol.slots.entries()) {
    const material: MaterialLot = {
      materialClass: slot.materialClass,
      label: slot.label,
      lot: n === 0 ? '42A' : `L-${n}`,
      warnings: n === 1 ? ['still-cold'] : [],
      ...(n === 0
        ? { expiry: '2027-12-31', deviceIdentifier: '09504000059118', scanned: LABEL }
        : {}),
    };
    const no = chair.do({ do: 'name-material', slot: slot.id, material });
    if (no) throw new Error(no.code);
  }
}

/** Chained as the app stores them. */
export function entriesOf(
  records: readonly Recorded[],
  caseId = 'case-1',
): readonly JournalEntry[] {
  return chainEntries(records, { caseId, epoch: 1, prev: NO_ENTRY_HASH });
}

export function sourceOf(log: CaseLog, caseId = 'case-1'): RecordSource {
  const entries = entriesOf(log.records, caseId);
  return { log, entries, verification: verifyChain(entries) };
}

/** A case of which another tablet pressed its last three entries otherwise, 9 s later by its own clock. */
export function forked(standing: { readonly withoutPen?: true } = {}): RecordSource {
  const source = sourceOf(eventful().log);
  const common = source.entries.length - 3;
  const [last, rest] = [source.entries[common - 1], source.entries.slice(common)];
  const recorded = rest.map((entry) => ({
    ...entry,
    stamp: { ...entry.stamp, wallMs: wallMs(entry.stamp.wallMs + 9000) },
  }));
  const entries = chainEntries(recorded, {
    caseId: 'case-1',
    epoch: 1,
    prev: last?.hash ?? NO_ENTRY_HASH,
  });
  return { ...source, secondEnds: [{ tablet: 'tablet-b', name: 'Chair 2', entries, ...standing }] };
}

/** A followed case of the template, signed at its end when nothing is left to do. */
export function followed(name: string, presses = 5000, start: { wallMs?: number } = {}): Chair {
  const chair = new Chair(templateSetting(name), start);
  nameMaterials(chair);
  follow(chair, presses);
  if (chair.view.finished) chair.rows('sign-off dentist-a');
  return chair;
}

/**
 * Three units: a short etch, a moved press, one taken back, saliva and its way back, a gap that was
 * settled, a skipped step, a bead, a new mix, notes before and after the signature.
 */
export function eventful(): Chair {
  const chair = new Chair(settingOf(SMALL_WHOLE, ['11', '21', '22']));
  chair.rows(`
    at 5 s     confirm ready case
    at 20 s    confirm fit 11 21 22
    at 30 s    choose shade case again
    at 50 s    confirm fit 11 21 22
    at 60 s    choose shade case accepted
    at 70 s    start etch 11
    at 74 s    start etch 21
    at 78 s    start etch 22
    at 79 s    undo
    at 80 s    start etch 22
    at 83 s    end etch 11
    at 95 s    end etch 21
    at 97 s    retime -2 s
    at 120 s   end etch 22
    at 140 s   end rinse 11 21 22
    at 150 s   confirm dry 11 21 22
    at 155 s   way-back wet saliva tooth:21 because =drool, "much" of it
    at 160 s   role assistant-b
    at 170 s   start etch 21
    at 190 s   end etch 21
    at 205 s   end rinse 21
    at 210 s   confirm dry 21
  `);
  chair.rows('sleep 7 s');
  chair.rows('at 240 s note Slept; the lid was shut\nsettle last 7 s');
  return chair;
}

/** The eventful case, followed to its end and signed, with a late note. */
export function finished(): Chair {
  const chair = eventful();
  chair.rows('probe 1 stringy');
  chair.do({
    do: 'try-shade',
    trial: {
      subject: 'unit:11',
      paste: 'light 1',
      sharePercent: 50,
      judgedBy: 'patient',
      result: 'accepted',
    },
  });
  follow(chair, 500);
  if (!chair.view.finished) throw new Error('the case should be finished');
  chair.rows('sign-off dentist-a');
  chair.at(chair.trueMs + 60_000);
  chair.rows('note Margin of 22 looked at again – fine');
  return chair;
}

/** A cement whose label was scanned, an etching gel whose lot was typed. Classes only. */
export function materialsOf(scanned: string): readonly MaterialUse[] {
  const label = readDeviceLabel({ text: scanned, presentYear: 2014 });
  return [
    materialUse(
      { label, text: scanned, isScanned: true },
      {
        slot: 'cement',
        materialClass: 'light-cured resin cement',
        ownLabel: 'Cement, shelf 2',
        usedFor: [{ step: 'cement', subject: 'mix:1' }],
      },
    ),
    {
      slot: 'etching-gel',
      materialClass: 'phosphoric acid gel',
      label: 'Etching gel',
      lot: 'EG-17',
      expiresOn: '2027-03',
      producedOn: null,
      serial: null,
      issuer: null,
      deviceIdentifier: null,
      carrier: null,
      entry: 'manual',
      usedFor: [{ step: 'etch', subject: 'tooth:11' }],
      remarks: ['opened 40 days ago'],
    },
  ];
}
