import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { presses } from '../../src/engine/log.ts';
import { caseCalendar } from '../../src/export/case-calendar.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { driftPercent, recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow, startsOf, strides, walk } from '../engine/walks.ts';
import { entriesOf, finished, followed, sourceOf, templateSetting } from './journals.ts';

const utc = (text: string): string => `2026-11-27T${text}.000Z`;

describe('the facts of a record', () => {
  const source = sourceOf(finished().log);
  const facts = recordFacts(source);
  const step = (key: string) => facts.steps.find((s) => s.key === key);

  // Times worked out by hand from the rows of the case in journals.ts.
  it('say who, what, where, under which protocol, and who signed', () => {
    expect(facts).toMatchObject({
      caseId: 'case-1',
      chartRef: 'SB-0001',
      mode: 'rehearsal',
      openedUtc: utc('09:00:00'),
      protocol: { id: 'tiny', revision: 1, hash: 'hash-1', approval: null },
      people: [
        { id: 'dentist-a', role: 'dentist' },
        { id: 'assistant-b', role: 'assistant' },
      ],
      rolesTaken: [{ role: 'assistant', person: 'Assistant B' }],
      room: { temperatureC: 22, lux: null },
      light: { irradianceMwPerCm2: 1200, tipDiameterMm: 9, driftPercent: null },
      signOff: { by: 'dentist-a', label: 'Dentist A', role: 'dentist' },
    });
    expect(facts.units.map((u) => u.teeth[0])).toMatchObject([
      { fdi: '11', universal: 8, name: 'maxillary right central incisor' },
      { fdi: '21', universal: 9, name: 'maxillary left central incisor' },
      { fdi: '22', universal: 10, name: 'maxillary left lateral incisor' },
    ]);
  });

  it('give each step its edges, the press behind each, and what it was asked', () => {
    expect(step('etch@tooth:11')).toMatchObject({
      teeth: ['11'],
      by: 'Dentist A',
      start: {
        at: { loMs: 70_000, hiMs: 70_000, fromUtc: utc('09:01:10') },
        pressed: { movedByMs: 0 },
      },
      end: { at: { loMs: 83_000, fromUtc: utc('09:01:23') } },
      elapsed: { loMs: 13_000, hiMs: 13_000 },
      asked: { minMs: 15_000, targetMs: 20_000, maxMs: 30_000 },
      shortByMs: 2000,
      overByMs: 0,
    });
    expect(step('etch@tooth:22')).toMatchObject({
      start: { at: { loMs: 80_000 }, pressed: { pressedUtc: utc('09:01:20') } },
      elapsed: { loMs: 40_000 },
      shortByMs: 0,
      overByMs: 10_000,
    });
    // Done again after the way back.
    expect(step('etch@tooth:21')).toMatchObject({
      start: { at: { loMs: 170_000 } },
      elapsed: { loMs: 20_000 },
    });
    expect(step('shade@case')).toMatchObject({ option: 'accepted', optionLabel: 'accepted' });
  });

  it('keep what no longer counts, with its reason and the press that was moved', () => {
    expect(facts.voided.map((v) => v.key)).toEqual([
      'fit@unit:11',
      'fit@unit:21',
      'fit@unit:22',
      'shade@case',
      'etch@tooth:21',
      'rinse@tooth:21',
      'dry@tooth:21',
    ]);
    expect(facts.voided[4]).toMatchObject({
      // Ended at 95 s, moved 2 s earlier.
      elapsed: { loMs: 19_000 },
      end: { at: { loMs: 93_000 }, pressed: { pressedUtc: utc('09:01:35'), movedByMs: -2000 } },
      voidedBecause: '=drool, "much" of it',
    });
    expect(facts.waysBack).toMatchObject([
      {
        wayBack: 'wet',
        mishap: 'saliva',
        subjects: ['tooth:21'],
        voided: ['etch@tooth:21', 'rinse@tooth:21', 'dry@tooth:21'],
      },
    ]);
  });

  it('show corrections as corrections: taken back, moved, settled', () => {
    expect(facts.corrections).toMatchObject([
      {
        kind: 'taken-back',
        isInForce: true,
        of: { pressedUtc: utc('09:01:18') },
        was: [{ type: 'step-started', step: 'etch', subjects: ['tooth:22'] }],
        pressed: { pressedUtc: utc('09:01:19'), by: 'Dentist A' },
      },
      { kind: 'moved', byMs: -2000, isInForce: true },
      { kind: 'gap-settled', lengthMs: 7000, isInForce: true },
    ]);
    expect(facts.gaps).toMatchObject([
      { cause: 'asleep-or-moved', length: { loMs: 7000, hiMs: 7000 }, isSettled: true },
    ]);
  });

  it('tell exposure given against exposure set on every surface, and when the light was on', () => {
    expect(step('expose@unit:22')?.surfaces).toEqual([
      {
        surface: 'facial',
        positions: 1,
        decidedBy: 'product',
        setMs: 10_000,
        givenMs: 10_000,
        owedMs: 0,
      },
      {
        surface: 'lingual',
        positions: 1,
        decidedBy: 'product',
        setMs: 10_000,
        givenMs: 10_000,
        owedMs: 0,
      },
    ]);
    for (const { on, off, given, setMs } of step('expose@unit:22')?.exposures ?? []) {
      const lasted = Date.parse(off?.pressedUtc ?? '') - Date.parse(on?.pressedUtc ?? '');
      expect(Math.min(lasted, setMs)).toBe(given.loMs);
    }
  });

  it('tell every window with its margin', () => {
    expect(facts.windows).toHaveLength(7);
    // Dried at 150 s; the coats began at 240 s of the clock on the wall: 60 s were allowed.
    expect(facts.windows[0]).toMatchObject({
      window: 'wet-surface',
      subject: 'tooth:11',
      opened: { loMs: 150_000 },
      closed: { loMs: 240_000 },
      maxMs: 60_000,
      marginToMaxMs: -30_000,
      state: 'broken',
    });
    expect(facts.breaches.map((b) => `${b.kind} ${b.of} ${b.subject} ${b.by}`)).toEqual([
      'short etch tooth:11 2000',
      'over etch tooth:22 10000',
      'late wet-surface tooth:11 30000',
      'late wet-surface tooth:22 30000',
    ]);
  });

  it('mark a note that was written after the signature', () => {
    expect(facts.notes.map((n) => n.isLate)).toEqual([false, true]);
  });

  it('carry the head of the chain and what was set apart', () => {
    expect(facts.chain).toEqual({
      entries: source.entries.length,
      head: source.entries.at(-1)?.hash,
      root: source.entries[0]?.hash,
      isWhole: true,
      firstBad: null,
      setApart: 0,
    });
    const bad = { goodCount: 77, firstBad: { index: 77, reason: 'hash' as const } };
    const damaged = recordFacts({ ...source, verification: bad, apart: [1, 2] });
    expect(damaged.chain).toMatchObject({ isWhole: false, firstBad: bad.firstBad, setApart: 2 });
    expect(recordText(damaged)).toContain(
      'the first that does not is entry 77 (hash); 2 set apart',
    );
  });

  it('say how far the light is from its own baseline, in percent', () => {
    const light = { label: 'L', tipDiameterMm: 9, irradianceMwPerCm2: 1180 };
    // (1180 - 1240) / 1240 = -4.8387 %.
    expect(driftPercent({ ...light, baselineMwPerCm2: 1240 })).toBe(-4.8);
    expect(driftPercent({ ...light, baselineMwPerCm2: 1180 })).toBe(0);
    expect(Object.is(driftPercent({ ...light, baselineMwPerCm2: 1180.1 }), 0)).toBe(true);
    expect(driftPercent(light)).toBeNull();
  });

  it('judge a window by what room and sample bead left of it', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11'], { windowMaxMs: { working: 100_000 } }));
    follow(chair, 14);
    expect(chair.status('cement@mix:1')).toBe('done');
    // 240 s by the protocol, 100 s by the room; a stringy bead after t s leaves half of the rest.
    const sinceMs = chair.trueMs - (chair.log.state.runs['cement@mix:1']?.endedAt?.loMs ?? 0);
    chair.rows('probe 1 stringy');
    follow(chair, 6);
    const [working] = recordFacts(sourceOf(chair.log)).windows.filter(
      (w) => w.window === 'working',
    );
    const leftMs = sinceMs + Math.round((100_000 - sinceMs) / 2);
    expect(working).toMatchObject({ maxMs: 240_000, judgedMaxMs: leftMs });
    expect(working?.marginToMaxMs).toBe(leftMs - (working?.elapsed?.hiMs ?? Number.NaN));
  });

  it('name the lot on each tooth, and a slot whose lot nobody named', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers').log));
    const cement = facts.materials.find((m) => m.slot === 'cement');
    expect(cement?.lot).toMatch(/^L-/);
    expect(cement?.usedFor).toContainEqual({ step: 'load', subject: 'unit:21' });
    const row = stepsCsv(facts)
      .split('\r\n')
      .find((l) => l.includes(',load,') && l.includes('unit:21'));
    expect(row).toContain(`${cement?.label}: ${cement?.lot}`);
    const [unnamed] = [{ ...facts, materials: [] }].map((facts) => recordText(facts));
    expect(unnamed).toContain('Cement (light-cured resin cement), lot not recorded');
  });

  it('say what a finishing visit goes on from, and propose no further one', () => {
    const wallMs = Date.UTC(2026, 10, 30, 9);
    const facts = recordFacts(sourceOf(followed('finish-two-veneers', 5000, { wallMs }).log));
    expect(facts.follows?.caseId).toBe('two-veneers');
    const earlier = facts.steps.filter((s) => (s.end?.at.hiMs ?? 0) < 0);
    expect(earlier.length).toBeGreaterThan(0);
    for (const { end } of earlier)
      expect(end).toMatchObject({ pressed: null, at: { fromUtc: facts.follows?.lastExposureUtc } });
    expect(caseCalendar(facts).match(/SUMMARY:Finishing visit/g)).toHaveLength(1);
  });

  it('leave an interval where the clocks left one', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11']));
    chair.rows('confirm ready case\nconfirm fit 11\nchoose shade case accepted');
    chair.rows('at 10 s start etch 11\nat 20 s note here\nreload 30 s\nend etch 11');
    const [etch] = recordFacts(sourceOf(chair.log)).steps.filter((s) => s.step === 'etch');
    // 10 s were counted before the app closed; up to 30 s more may have passed.
    expect(etch?.elapsed).toEqual({ loMs: 10_000, hiMs: 40_000 });
    expect(etch).toMatchObject({ shortByMs: 5000, overByMs: 10_000 });
    expect(etch?.end?.at).toMatchObject({ fromUtc: utc('09:00:20'), toUtc: utc('09:00:50') });
  });
});

describe('facts of any case', () => {
  const start = startsOf(settingOf(SMALL_WHOLE, ['11', '21']));

  it('are the same for the same journal, survive JSON, and give the same bytes in every form', () => {
    fc.assert(
      fc.property(fc.nat(60), strides(25), (count, list) => {
        const chair = walk(start(count), list);
        const once = sourceOf(chair.log);
        const facts = recordFacts(once);
        expect(JSON.parse(JSON.stringify(facts))).toEqual(facts);
        // The same entries, read back and folded anew.
        const entries = JSON.parse(JSON.stringify(entriesOf(chair.log.records)));
        const again = { ...once, entries, verification: verifyChain(entries) };
        for (const { id } of EXPORT_FORMS) {
          expect(exportFile(again, id).text).toBe(exportFile(once, id).text);
        }
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it('name a press for each edge, and only presses that still count', () => {
    fc.assert(
      fc.property(fc.nat(60), strides(25), (count, list) => {
        const { log } = walk(start(count), list);
        const facts = recordFacts(sourceOf(log));
        const counted = new Set(presses(log));
        for (const { key, start: from, end: to } of [...facts.steps, ...facts.voided]) {
          for (const edge of [from, to]) {
            if (edge === null) continue;
            expect(edge.pressed, key).not.toBeNull();
            expect(counted, key).toContain(edge.pressed?.press);
          }
        }
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it('put each edge where its press was, while the clocks agree', () => {
    fc.assert(
      fc.property(fc.nat(60), strides(25), (count, list) => {
        const calm = list.filter((s) => s.what < 96);
        const { log } = walk(start(count), calm);
        const facts = recordFacts(sourceOf(log));
        for (const { key, start: from, end: to } of [...facts.steps, ...facts.voided]) {
          for (const edge of [from, to]) {
            if (!edge?.pressed) continue;
            const { pressedUtc, movedByMs } = edge.pressed;
            expect(Date.parse(edge.at.fromUtc), key).toBe(Date.parse(pressedUtc) + movedByMs);
          }
        }
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it('give every counted unit of the shipped template all its exposures', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers').log));
    const { plan } = templateSetting('two-veneers');
    for (const tooth of ['11', '21']) {
      const planned = plan.exposures['expose']?.[tooth] ?? [];
      expect(planned.length).toBeGreaterThan(0);
      const told = facts.steps.find((s) => s.key === `expose@tooth:${tooth}`)?.surfaces ?? [];
      expect(told.map((s) => [s.surface, s.setMs])).toEqual(
        planned.map((p) => [p.surface, p.setMs * p.positions]),
      );
      for (const surface of told) expect(surface.givenMs).toBe(surface.setMs);
    }
    expect(facts.undone).toEqual([]);
    expect(facts.signOff).not.toBeNull();
    expect(facts.slots.find((s) => s.slot === 'cement')?.usedFor.length).toBeGreaterThan(0);
  });
});

describe('the record as text', () => {
  it('keeps words with line breaks on one line, and tells each fact once', () => {
    const chair = finished();
    chair.rows('note x');
    const facts = recordFacts(sourceOf(chair.log));
    const text = recordText({ ...facts, note: 'one\ntwo\r\nthree' });
    expect(text).toContain('  Note: one / two / three\n');
    for (const words of [
      'etch, tooth 11, 13 s elapsed, asked 20 s and not below 15 s and not above 30 s, short of the minimum by 2 s',
      'wet-surface, tooth 11: not kept: max 60 s, margin -30 s',
      'press 8 of 27 Nov 2026, 09:01:18 taken back (step-started etch tooth 22)',
      'after the signature, Dentist A: Margin of 22 looked at again',
      `Hash of the last entry: ${facts.chain.head}`,
    ]) {
      expect(text.split(words), words).toHaveLength(2);
    }
  });
});
