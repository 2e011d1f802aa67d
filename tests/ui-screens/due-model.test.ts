/**
 * Latest moments by hand: a warm-up of 20 min (Faria-e-Silva, Piva, Moraes, Eur J Dent
 * 2010;4:150-155) before 09:00 UTC is 08:00 UTC; the hold of 24 h is common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { nowOf } from '../../src/engine/view.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { type Begun, type DueLine, dueModel } from '../../src/ui/today/due-model.ts';
import { caseNamed, FamilyChair, protocolNamed } from '../families/family-chair.ts';
import { HERE } from '../tools/here.ts';

const seating = caseNamed('four-veneers-universal');
const preparing = caseNamed('prepare-four-veneers');
const bottles = {
  ...caseNamed('eight-upper-veneers'),
  chartRef: 'SB-1',
  scheduledFor: '2026-12-01T09:00:00Z',
};
const ids = [seating, preparing, bottles].map((s) => s.protocol);
const protocols = [...new Set([...ids, 'finishing-visit'])].map(protocolNamed);

const at = (hours: number, minutes: number): number => Date.UTC(2026, 11, 1, hours, minutes);
const due = (prepared: readonly CaseFile[], nowMs: number, begun: readonly Begun[] = []) =>
  dueModel({ prepared, protocols, begun, nowMs, times: HERE });

const told = (line: DueLine): string => {
  if (line.kind === 'warming') return `${line.material} ${line.elapsed.loMs / 60_000} min`;
  const clock = new Date(line.atMs).toISOString().slice(11, 16);
  return line.kind === 'out-by' ? `${line.materials.join(', ')} ${clock}` : `${line.kind} ${clock}`;
};

/** A preparation on the patient, played until the adhesive is out, as seen `afterMs` later. */
function prepared(afterMs: number): Begun {
  const chair = new FamilyChair(
    { spec: preparing, protocol: protocolNamed('preparation') },
    at(7, 0),
  );
  const isOut = () => chair.log.state.runs['adhesive-out@case'] !== undefined;
  for (let i = 0; i < 100 && !isOut(); i++) chair.next();
  chair.atMs += afterMs;
  const { state } = chair.log;
  return { chartRef: preparing.chartRef, state, now: nowOf(state, chair.stamp) };
}

describe('what is due before a case', () => {
  it('is each refrigerated material by its own moment, and then the appointment', () => {
    const [one] = due([bottles], at(8, 0));
    expect(one?.lines.map(told)).toEqual([
      'Adhesive A 08:00',
      'Adhesive B 08:00',
      'Bonding resin 08:00',
      'Cement 08:00',
      'appointment 09:00',
    ]);
    expect(one?.lateMs).toBe(0);
  });

  it('stands in one line while its moment is hours away', () => {
    expect(due([bottles], at(5, 0))[0]?.lines.map(told)).toEqual([
      'Adhesive A, Adhesive B, Bonding resin, Cement 08:00',
      'appointment 09:00',
    ]);
  });

  it('is late by what has passed since, and what is latest stands first', () => {
    const later = { ...seating, id: 'x', chartRef: 'SB-2', scheduledFor: '2026-12-01T11:00:00Z' };
    const all = due([later, bottles], at(8, 52));
    expect(all.map((d) => [d.chartRef, d.lateMs / 60_000])).toEqual([
      ['SB-1', 52],
      ['SB-2', 0],
    ]);
  });

  it('names a material once where preparation and seating are both prepared', () => {
    const [one, ...others] = due([preparing, seating], at(8, 0));
    expect(others).toEqual([]);
    expect(one?.lines.map(told)).toEqual(['Cement 08:00', 'Adhesive 08:00', 'appointment 09:00']);
  });

  it('becomes the time it has been out once the preparation took it out', () => {
    const [one] = due([preparing, seating], at(8, 0), [prepared(7 * 60_000)]);
    expect(one?.lines.map(told)).toEqual([
      expect.stringMatching(/^Cement \d/),
      'Adhesive 7 min',
      'appointment 09:00',
    ]);
    const four = { ...bottles, chartRef: preparing.chartRef };
    const [other] = due([four], at(8, 0), [prepared(7 * 60_000)]);
    // One bottle for all: the preparation says "every bottle of it".
    expect(other?.lines.slice(0, 3).map(told)).toEqual([
      'Adhesive A 7 min',
      'Adhesive B 7 min',
      'Bonding resin 7 min',
    ]);
  });

  it('is nothing of a material that was taken out for another patient', () => {
    const begun = { ...prepared(0), chartRef: 'SB-9' };
    expect(due([seating], at(8, 0), [begun])[0]?.lines[0]).toMatchObject({ kind: 'out-by' });
  });

  it('is the hold of a finishing visit until it has passed', () => {
    const follows = { caseId: 'c', lastExposureWallMs: at(8, 30) - 86_400_000 };
    const visit = { ...seating, protocol: 'finishing-visit', follows };
    expect(due([visit], at(8, 0))[0]?.lines.map(told)).toEqual(['hold 08:30', 'appointment 09:00']);
    expect(due([visit], at(8, 31))[0]?.lines.map(told)).toEqual(['appointment 09:00']);
  });

  it('is nothing once the appointment was begun, or long over, or days away', () => {
    const chair = new FamilyChair(
      { spec: seating, protocol: protocolNamed(seating.protocol) },
      at(9, 0),
    );
    const { state } = chair.log;
    const begun = { chartRef: seating.chartRef, state, now: nowOf(state, chair.stamp) };
    expect(due([seating], at(9, 5), [begun])).toEqual([]);
    expect(due([seating], at(23, 0))).toEqual([]);
    expect(due([seating], at(9, 0) - 3 * 86_400_000)).toEqual([]);
  });
});
