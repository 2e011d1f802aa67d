/** Which lot was used for which step: a lot counts from when it was named until the next one. */
import { describe, expect, it } from 'vitest';
import type { MaterialLot } from '../../src/engine/material-types.ts';
import { namedMaterials } from '../../src/export/named-materials.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { caseFacts } from '../../src/runtime/cases/cases-list-facts.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { entriesOf, sourceOf } from '../export/journals.ts';

const lot = (name: string, more: Partial<MaterialLot> = {}): MaterialLot => ({
  materialClass: 'phosphoric acid gel',
  label: 'Gel, drawer 1',
  lot: name,
  warnings: [],
  ...more,
});

const summaryOf = (log: Chair['log']) => summarise(null, entriesOf(log.records));

function chairWithSlot(): Chair {
  const setting = settingOf(SMALL_WHOLE, ['11', '21', '22']);
  const { protocol } = setting;
  return new Chair({
    ...setting,
    protocol: {
      ...protocol,
      slots: [
        { id: 'gel', materialClass: 'phosphoric acid gel', label: 'Gel', refrigerated: false },
      ],
      steps: protocol.steps.map((s) => (s.id === 'etch' ? { ...s, uses: ['gel'] } : s)),
    },
  });
}

function etched(): Chair {
  const chair = chairWithSlot();
  const name = (material: MaterialLot) => {
    expect(chair.do({ do: 'name-material', slot: 'gel', material })).toBeNull();
  };
  chair.rows(`
    at 5 s     confirm ready case
    at 20 s    confirm fit 11 21 22
    at 30 s    choose shade case accepted
    at 70 s    start etch 11
    at 71 s    note gel as on the tray
  `);
  const scanned = { text: ']d201040123456789011728113010L1', issuer: 'GS1' };
  name(lot('L1', { scanned, deviceIdentifier: '04012345678901', warnings: ['expired'] }));
  chair.rows(`
    at 74 s    start etch 21
    at 76 s    note new syringe
  `);
  name(lot('L2'));
  chair.rows('at 80 s start etch 22');
  return chair;
}

describe('lots named at the chair', () => {
  it('belong to the steps begun while they were the named ones', () => {
    const uses = namedMaterials(etched().log);
    expect(uses.map((u) => [u.lot, u.usedFor.map((f) => f.subject)])).toEqual([
      ['L1', ['tooth:11', 'tooth:21']],
      ['L2', ['tooth:22']],
    ]);
    expect(uses[0]).toMatchObject({
      slot: 'gel',
      issuer: 'GS1',
      entry: 'barcode',
      remarks: ['past its expiry date'],
      carrier: { humanReadable: '(01)04012345678901(17)281130(10)L1' },
    });
    expect(uses[1]).toMatchObject({ entry: 'manual', issuer: null, carrier: null, remarks: [] });
  });

  // R4, Device.udiCarrier: carrierAIDC is what the reader of a barcode gave, entryType how it came in.
  it('say of a code that was typed as printed that it was not scanned', () => {
    const chair = chairWithSlot();
    const text = '(01)04012345678901(17)281130(10)L1';
    const material = lot('L1', {
      scanned: { text, issuer: 'GS1' },
      deviceIdentifier: '04012345678901',
    });
    expect(chair.do({ do: 'name-material', slot: 'gel', material })).toBeNull();
    expect(namedMaterials(chair.log)).toMatchObject([
      { issuer: 'GS1', entry: 'manual', carrier: { humanReadable: text, scanned: null } },
    ]);
  });

  it('no longer count for a press that was taken back', () => {
    const chair = etched();
    chair.rows('at 82 s undo');
    expect(namedMaterials(chair.log).at(-1)?.usedFor).toEqual([]);
  });

  it('lead from the lot to the case only for what was begun with that lot', () => {
    const log = etched().log;
    const lots = caseFacts(summaryOf(log), log).lots;
    expect(lots.map(({ lot: name, steps }) => [name, steps])).toEqual([
      ['L1', ['etch']],
      ['L2', ['etch']],
    ]);
    const late = etched();
    late.rows('at 82 s undo');
    expect(caseFacts(summaryOf(late.log), late.log).lots.at(-1)).toMatchObject({
      lot: 'L2',
      steps: [],
    });
  });

  it('are part of the record and of its text without anybody handing them over', () => {
    const facts = recordFacts(sourceOf(etched().log));
    expect(facts.materials.map((m) => m.lot)).toEqual(['L1', 'L2']);
    expect(recordText(facts)).toMatch(/L1/);
  });
});
