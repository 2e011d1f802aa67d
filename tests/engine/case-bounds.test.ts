/**
 * The agenda, the plan and the check of a protocol read one map of a case. Each row is a thing that
 * they once told differently. Outside reference: sums of seconds done by hand.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { checkWindows } from '../../src/plan/check-windows.ts';
import { openingState } from '../../src/plan/opening-state.ts';
import { projectCase } from '../../src/plan/project-case.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { Chair } from './chair.ts';
import { coats, confirm, dwell, protocolOf, settingOf, step, window } from './fixture.ts';

const chairOf = (protocol: Protocol, teeth: readonly string[], rows: string): Chair =>
  new Chair(settingOf(protocol, teeth)).rows(rows);

function slackOf(chair: Chair, offer: string): number | null {
  return present(
    chair.view.offers.find((o) => o.id === offer),
    offer,
  ).slackMs;
}

/** Seconds that the check misses in the first window it complains of; 0 when there is none. */
const missingOf = (protocol: Protocol): unknown =>
  checkWindows(protocol)[0]?.values['missingSeconds'] ?? 0;

/** Room that the plan leaves in the tightest band of a window. */
function roomMs(protocol: Protocol, teeth: readonly string[], of: string): number {
  const { spec, plan } = settingOf(protocol, teeth);
  const { timeline } = projectCase({ state: openingState({ spec, protocol, plan }), nowMs: 0 });
  return Math.min(...timeline.bands.filter((b) => b.of === of).map((b) => b.slackMs));
}

describe('the map of a case', () => {
  it('puts the first of several coats before the press that says it is on', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('clean', 'case', confirm, { after: ['open'], paceSeconds: 10 }),
        step('paint', 'case', coats(5), { after: ['clean'], paceSeconds: 50 }),
      ],
      { windows: [window('wet', 'open/end -> paint/start', { maxS: 60 })] },
    );
    // 60 s less the 10 s of the first coat and the 10 s of cleaning.
    const chair = chairOf(protocol, ['11'], 'at 0 s confirm open case');
    expect(slackOf(chair, 'confirm clean case')).toBe(40_000);
    expect(roomMs(protocol, ['11'], 'wet')).toBe(40_000);
  });

  it('counts the least time between coats where the hands are quicker', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('paint', 'case', coats(3, 15), { after: ['open'], paceSeconds: 9 }),
      ],
      { windows: [window('wet', 'open/end -> paint/end', { maxS: 60 })] },
    );
    const chair = chairOf(protocol, ['11'], 'at 0 s confirm open case');
    // Two gaps of 15 s follow the first press.
    expect(slackOf(chair, 'coat paint case')).toBe(30_000);
  });

  it('takes no time for subjects of a step that may be left out', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('extra', 'unit', confirm, { after: ['open'], paceSeconds: 20, optional: true }),
        step('seat', 'case', confirm, { after: ['extra'], paceSeconds: 10 }),
      ],
      { windows: [window('working', 'open/end -> seat/end', { maxS: 60 })] },
    );
    const chair = chairOf(protocol, ['11', '21'], 'at 0 s confirm open case');
    expect(slackOf(chair, 'confirm extra unit:11')).toBe(50_000);
    expect(missingOf(protocol)).toBe(0);
  });

  it('takes a step of one press for begun when it is pressed', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('apply', 'case', confirm, { after: ['open'], paceSeconds: 20 }),
        step('seat', 'case', confirm, { after: ['apply'], paceSeconds: 10 }),
      ],
      { windows: [window('working', 'open/end -> seat/start', { maxS: 60 })] },
    );
    const chair = chairOf(protocol, ['11'], 'at 0 s confirm open case');
    expect(slackOf(chair, 'confirm apply case')).toBe(30_000);
    expect(roomMs(protocol, ['11'], 'working')).toBe(30_000);
  });

  it('counts a dwell that the hands stay on once, not as put on and then left to act', () => {
    const rub = (maxS: number): Protocol =>
      protocolOf(
        [
          step('dry', 'case', confirm),
          step('rub', 'case', dwell(20, 20), { after: ['dry'], paceSeconds: 25 }),
        ],
        { windows: [window('open', 'dry/end -> rub/end', { maxS })] },
      );
    expect(missingOf(rub(60))).toBe(0);
    expect(missingOf(rub(20))).toBe(5);
    expect(roomMs(rub(60), ['11'], 'open')).toBe(35_000);
    const chair = chairOf(rub(60), ['11'], 'at 0 s confirm dry case');
    expect(slackOf(chair, 'start rub case')).toBe(35_000);
  });

  it('puts a dwell on before its clock begins, where the hands leave it to act', () => {
    const protocol = protocolOf(
      [
        step('dry', 'case', confirm),
        step('clean', 'case', confirm, { after: ['dry'], paceSeconds: 5 }),
        step('prime', 'case', dwell(30, 60), { after: ['clean'], paceSeconds: 40 }),
      ],
      { windows: [window('open', 'dry/end -> prime/start', { maxS: 60 })] },
    );
    const chair = chairOf(protocol, ['11'], 'at 0 s confirm dry case');
    expect(slackOf(chair, 'confirm clean case')).toBe(15_000);
    expect(roomMs(protocol, ['11'], 'open')).toBe(15_000);
  });

  it('ends one step as the clock of the next begins, also where no order says so', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('etch', 'case', dwell(15, 20), { after: ['open'], paceSeconds: 5 }),
        step('rinse', 'case', dwell(10, 10), { beginsWith: 'etch', paceSeconds: 5 }),
      ],
      { windows: [window('wet', 'open/end -> rinse/end', { maxS: 60 })] },
    );
    const chair = chairOf(protocol, ['11'], 'at 0 s confirm open case');
    expect(slackOf(chair, 'start etch case')).toBe(35_000);
  });

  it('leaves less for what comes first once a bead has shortened the working time', () => {
    const protocol = protocolOf(
      [
        step('cement', 'mix', confirm),
        step('load', 'unit', confirm, { after: ['cement/linked'], paceSeconds: 20 }),
        step('seat', 'unit', confirm, { after: ['load/same'], paceSeconds: 30 }),
      ],
      {
        windows: [
          window('working', 'cement/end -> seat/end', {
            maxS: 240,
            match: 'linked',
            protects: 'working',
          }),
        ],
      },
    );
    const rows = 'at 0 s confirm cement 1\nat 40 s probe 1 stringy';
    const chair = chairOf(protocol, ['11'], rows);
    // A stringy bead at 40 s leaves 100 s; 50 s of loading and seating lie between.
    expect(slackOf(chair, 'confirm load unit:11')).toBe(50_000);
    chair.rows('at 42 s undo');
    expect(slackOf(chair, 'confirm load unit:11')).toBe(148_000);
  });

  it('gives two neighbouring units three contacts, in the check as in a case', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('floss', 'contact', confirm, { after: ['open'], paceSeconds: 10 }),
      ],
      { windows: [window('soft', 'open/end -> floss/end', { maxS: 25, match: 'linked' })] },
    );
    expect(missingOf(protocol)).toBe(5);
    expect(roomMs(protocol, ['11', '21'], 'soft')).toBe(-5000);
  });
});
