/** Whom to call about a lot: the teeth it was used on and what was bonded there, typed lots too. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { MaterialLot } from '../../src/engine/material-types.ts';
import { type CallRow, callsCsv, lotInCase } from '../../src/export/recalled-cases.ts';
import { caseFacts, casesWithLot } from '../../src/runtime/cases/cases-list-facts.ts';
import { namesLot } from '../../src/runtime/stock/names-lot.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { entriesOf } from '../export/journals.ts';

const lot = (name: string): MaterialLot => ({
  materialClass: 'phosphoric acid gel',
  label: 'Gel, drawer 1',
  lot: name,
  warnings: [],
});

const isLot = (name: string) => (other: string) => namesLot(other, name);

/** Three units; the gel is asked for by etching. With `isTyped` the first step asks for its lot. */
function chairWithSlot(o = { isTyped: false }): Chair {
  const setting = settingOf(SMALL_WHOLE, ['11', '21', '22']);
  const { protocol } = setting;
  const material = { kind: 'material', slot: 'gel', label: 'Lot of the gel' } as const;
  return new Chair({
    ...setting,
    protocol: {
      ...protocol,
      slots: [
        { id: 'gel', materialClass: 'phosphoric acid gel', label: 'Gel', refrigerated: false },
      ],
      steps: protocol.steps.map((s) => {
        if (s.id === 'etch') return { ...s, uses: ['gel'] };
        const asks = o.isTyped && s.id === 'ready' && s.action.kind === 'confirm';
        return asks ? { ...s, action: { kind: 'confirm', evidence: material } } : s;
      }),
    },
  });
}

function etched(): Chair {
  const chair = chairWithSlot();
  chair.rows(`
    at 5 s     confirm ready case
    at 20 s    confirm fit 11 21 22
    at 30 s    choose shade case accepted
    at 70 s    start etch 11
    at 71 s    note gel as on the tray
  `);
  expect(chair.do({ do: 'name-material', slot: 'gel', material: lot('L1') })).toBeNull();
  chair.rows(`
    at 74 s    start etch 21
    at 76 s    note new syringe
  `);
  expect(chair.do({ do: 'name-material', slot: 'gel', material: lot('L2') })).toBeNull();
  chair.rows('at 80 s start etch 22');
  return chair;
}

describe('a lot in a case', () => {
  it('tells the teeth that it was used on and what was bonded there, and no other', () => {
    const { log } = etched();
    const { units } = log.state.opened.spec;
    const bondedOn = (tooth: string) => {
      const unit = units.find(({ teeth }) => teeth.includes(tooth));
      return { teeth: [tooth], restoration: unit?.restoration, material: unit?.material };
    };
    expect(lotInCase(log, isLot('L2'))).toEqual({
      isNoted: false,
      uses: [{ slot: 'Gel', steps: ['etch'], isTyped: false }],
      teeth: ['22'],
      bonded: [bondedOn('22')],
    });
    // Lots are compared without case and blanks, as everywhere.
    expect(lotInCase(log, isLot(' l 1'))).toMatchObject({
      teeth: ['11', '21'],
      bonded: [bondedOn('11'), bondedOn('21')],
    });
    expect(lotInCase(log, isLot('L3'))).toBeNull();
  });

  it('is told of a lot that was only named too: it lay on the tray', () => {
    const chair = chairWithSlot();
    chair.do({ do: 'name-material', slot: 'gel', material: lot('L1') });
    expect(lotInCase(chair.log, isLot('L1'))).toEqual({
      isNoted: false,
      uses: [{ slot: 'Gel', steps: [], isTyped: false }],
      teeth: [],
      bonded: [],
    });
  });

  /** A chair at which the first press says a lot that the shelf did not have. */
  function typedAtFirst(evidence: string) {
    const chair = chairWithSlot({ isTyped: true });
    const offer = chair.view.offers[0];
    if (offer === undefined) throw new Error('no offer');
    expect(chair.do({ do: 'press', offer, evidence })).toBeNull();
    return chair.rows(`
      at 20 s    confirm fit 11 21 22
      at 30 s    choose shade case accepted
      at 70 s    start etch 11
    `);
  }

  it('is found where it was typed, as it is printed, because the shelf had none', () => {
    const chair = typedAtFirst(' L-77 ');
    expect(lotInCase(chair.log, isLot('l-77'))).toMatchObject({
      uses: [{ slot: 'Gel', steps: ['etch'], isTyped: true }],
      teeth: ['11'],
    });
    const facts = caseFacts(summarise(null, entriesOf(chair.log.records)), chair.log);
    expect(casesWithLot([facts], 'L-77')).toMatchObject([{ used: [{ lot: 'L-77', label: '' }] }]);
  });

  it('is found where the step at which it was typed was voided by a way back', () => {
    const chair = typedAtFirst('L-77');
    const [voided] = Object.entries(chair.log.state.runs).filter(([key]) => /^ready@/.test(key));
    if (voided === undefined) throw new Error('not confirmed');
    const { [voided[0]]: _, ...runs } = chair.log.state.runs;
    const [key, run] = voided;
    const state = { ...chair.log.state, runs, voided: [{ key, run, press: 9, reason: 'wet' }] };
    expect(lotInCase({ state }, isLot('L-77'))).toMatchObject({ teeth: ['11'] });
  });

  it.each(['LOT L-77', 'L-77, B88', 'L-77 exp 2027-01', 'Gel L 77', 'lot:L-77.', '(10)L-77'])(
    'is found among other words: %s',
    (evidence) => {
      const chair = typedAtFirst(evidence);
      const name = evidence.includes('L 77') ? 'L77' : 'L-77';
      expect(lotInCase(chair.log, isLot(name))).toMatchObject({ uses: [{ isTyped: true }] });
      expect(lotInCase(chair.log, isLot('L-7'))).toBeNull();
      const facts = caseFacts(summarise(null, entriesOf(chair.log.records)), chair.log);
      expect(casesWithLot([facts], name)).toHaveLength(1);
      expect(casesWithLot([facts], 'L-7')).toEqual([]);
    },
  );

  it('is found in the note that the case was prepared with', () => {
    const { log } = chairWithSlot();
    const { opened } = log.state;
    const spec = { ...opened.spec, note: 'gel of lot L-77, as asked' };
    const noted = { ...log, state: { ...log.state, opened: { ...opened, spec } } };
    expect(lotInCase(noted, isLot('L-77'))).toMatchObject({ uses: [], isNoted: true });
    expect(lotInCase(noted, isLot('L-7'))).toBeNull();
    const facts = caseFacts(summarise(null, entriesOf(log.records)), noted);
    expect(casesWithLot([facts], 'L-77')).toMatchObject([{ used: [] }]);
    expect(casesWithLot([facts], 'L-78')).toEqual([]);
  });
});

describe('the list as a file', () => {
  it('has a line for each case of which not even the name is left', () => {
    const text = callsCsv([], { lot: 'L1', unnamed: 2 });
    const read = parse<Record<string, string>>(text, { columns: true });
    const line = { lot: 'L1', chart_reference: '', kind: '', standing: 'cannot-tell', whole: 'no' };
    expect(read).toMatchObject([line, line]);
  });

  const row = (more: Partial<CallRow>): CallRow => ({
    caseId: 'c1',
    chartRef: 'KB-2041',
    title: 'Upper front; two, units',
    mode: 'patient',
    standing: 'closed',
    day: '2026-11-25',
    isWhole: true,
    lot: lotInCase(etched().log, isLot('L1')),
    ...more,
  });

  it('is read back by another reader as it was, with cases of which it cannot be told', () => {
    const text = callsCsv(
      [
        row({}),
        row({
          caseId: 'c2',
          chartRef: '=1+1',
          standing: 'cannot-tell',
          day: null,
          isWhole: false,
          lot: null,
        }),
      ],
      { lot: 'L1', unnamed: 0 },
    );
    // csv-parse is not of this project.
    const read = parse<Record<string, string>>(text, { columns: true });
    expect(read).toMatchObject([
      {
        lot: 'L1',
        chart_reference: 'KB-2041',
        case_title: 'Upper front; two, units',
        kind: 'patient',
        standing: 'closed',
        day: '2026-11-25',
        teeth_fdi: '11 21',
        used_for: 'Gel: etch',
        lot_entry: 'named',
        case: 'c1',
      },
      // A spreadsheet must not run what people typed.
      { chart_reference: "'=1+1", standing: 'cannot-tell', day: '', teeth_fdi: '', used_for: '' },
    ]);
    expect(read[0]?.['bonded']).toMatch(/^11: .+; 21: .+$/);
  });
});
