/** What the chair says of materials: what a step asks for, the gravest first, nothing twice. */
import { describe, expect, it } from 'vitest';
import { wallMs } from '../../src/base/units.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { lotOf } from '../../src/runtime/stock/stock-warnings.ts';
import { askedSlots, chairSlots, shelfFor } from '../../src/ui/shared/materials-chair-model.ts';
import { Chair, START_WALL_MS } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { HERE } from '../tools/here.ts';
import { runningOf } from '../tools/running-case.ts';

const slot = (id: string, materialClass: string, refrigerated = false) => ({
  id,
  materialClass,
  label: id,
  refrigerated,
});

function chairThatUses(uses: readonly string[], o = { watchesWarmUp: false }): Chair {
  const setting = settingOf(SMALL_WHOLE, ['11', '21', '22']);
  const { protocol } = setting;
  const first = protocol.steps[0]?.id;
  return new Chair({
    ...setting,
    protocol: {
      ...protocol,
      windows: protocol.windows.filter((w) => o.watchesWarmUp || w.protects !== 'warm'),
      slots: [slot('gel', 'acid gel'), slot('resin', 'bonding resin', true)],
      steps: protocol.steps.map((s) => (s.id === first ? { ...s, uses } : s)),
    },
  });
}

const running = (chair: Chair): RunningCase =>
  runningOf(chair, { now: { ...chair.stamp, wallMs: wallMs(START_WALL_MS) } });

const gel: Material = {
  id: 'm1',
  materialClass: 'Acid gel',
  label: 'Gel, drawer 1',
  lot: 'G1',
  refrigerated: false,
};
const resin: Material = {
  ...gel,
  id: 'm2',
  materialClass: 'bonding resin',
  label: 'Resin',
  lot: 'R1',
  refrigerated: true,
  warmUpMinutes: 60,
};
const expired = { ...gel, id: 'm3', lot: 'G0', expiry: '2026-01-31' };

describe('what the chair says of materials', () => {
  it('offers a recalled lot last, whatever its days', () => {
    const recalled = { ...gel, id: 'm4', lot: 'G9', expiry: '2026-12-01' };
    const shelf = [{ ...recalled, recalled: { onWallMs: 1, reason: '' } }, gel];
    const [slot] = chairSlots(running(chairThatUses(['gel'])), shelf);
    expect(slot?.choices.map(({ lot }) => lot)).toEqual(['G1', 'G9']);
  });

  it('asks for the lot that the next step uses, and offers the only one there is', () => {
    const asked = askedSlots(running(chairThatUses(['gel'])), [gel, resin], START_WALL_MS, HERE);
    expect(asked).toMatchObject([{ id: 'gel', named: null, warnings: [], only: { lot: 'G1' } }]);
  });

  it('says nothing where the step uses nothing, or the shelf has nothing of the class', () => {
    expect(askedSlots(running(chairThatUses([])), [gel, resin], START_WALL_MS, HERE)).toEqual([]);
    expect(askedSlots(running(chairThatUses(['gel'])), [resin], START_WALL_MS, HERE)).toEqual([]);
  });

  it('offers no single lot while there are several', () => {
    const [asked] = askedSlots(
      running(chairThatUses(['gel'])),
      [gel, expired],
      START_WALL_MS,
      HERE,
    );
    expect(asked).toMatchObject({ only: null, warnings: [] });
  });

  it('falls silent once a good lot is named, and speaks again when that lot is recalled', () => {
    const chair = chairThatUses(['gel']);
    chair.do({ do: 'name-material', slot: 'gel', material: lotOf(gel, START_WALL_MS, HERE) });
    expect(askedSlots(running(chair), [gel], START_WALL_MS, HERE)).toEqual([]);
    const recalled = { ...gel, recalled: { onWallMs: START_WALL_MS, reason: 'letter' } };
    expect(askedSlots(running(chair), [recalled], START_WALL_MS, HERE)).toMatchObject([
      { named: { lot: 'G1' }, warnings: [{ code: 'recalled', reason: 'letter' }] },
    ]);
  });

  it('puts what is grave before what is only cold', () => {
    const asked = askedSlots(
      running(chairThatUses(['resin', 'gel'])),
      [resin, expired],
      START_WALL_MS,
      HERE,
    );
    expect(asked.map((a) => [a.id, a.warnings.map((w) => w.code)])).toEqual([
      ['gel', ['expired']],
      ['resin', ['still-cold']],
    ]);
  });

  it('leaves the cold to the window of the case, where the protocol has one', () => {
    const chair = chairThatUses(['resin'], { watchesWarmUp: true });
    const { windows, steps } = chair.log.state.opened.protocol;
    expect(windows.find((w) => w.protects === 'warm')?.from.step).toBe(steps[0]?.id);
    const [asked] = askedSlots(running(chair), [resin], START_WALL_MS, HERE);
    expect(asked).toMatchObject({ id: 'resin', warnings: [] });
  });

  it('does not offer what is used up, and puts the lot that expires first at the front', () => {
    const late = { ...gel, id: 'm4', lot: 'G9', expiry: '2029-01-31' };
    const gone = { ...gel, id: 'm5', lot: 'GX', goneOnWallMs: START_WALL_MS };
    const [first] = chairSlots(running(chairThatUses(['gel'])), [late, gone, expired]);
    expect(first?.choices.map((m) => m.lot)).toEqual(['G0', 'G9']);
  });

  it('while preparing, names the lot that would do, and what is in the way where none does', () => {
    const { slots } = chairThatUses([]).log.state.opened.protocol;
    const lines = shelfFor({ slots }, [expired, gel], START_WALL_MS, HERE);
    expect(lines.map((l) => [l.id, l.best?.lot ?? null])).toEqual([
      ['gel', 'G1'],
      ['resin', null],
    ]);
    expect(shelfFor({ slots }, [expired], START_WALL_MS, HERE)[0]?.warnings).toMatchObject([
      { code: 'expired' },
    ]);
  });
});
