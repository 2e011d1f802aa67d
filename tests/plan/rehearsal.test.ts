/** Scripts carried out on the shipped cases: what they lead to, and why some rows cannot be. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { problemLine } from '../../src/base/problem.ts';
import { type Layout, layoutOf, surfacePlans } from '../../src/engine/layout.ts';
import { replay } from '../../src/engine/log.ts';
import { parseScript } from '../../src/plan/parse-script.ts';
import { type Rehearsal, rehearse } from '../../src/plan/rehearsal.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { firstTemplate, shippedCase, textOf } from './documents.ts';

const protocol = firstTemplate();

type CaseName = Parameters<typeof shippedCase>[0];

function outcome(name: CaseName, presses: unknown, by?: string) {
  const spec = shippedCase(name);
  const by_ = by === undefined ? {} : { by };
  const script = parseScript({ format: 'lutewatch-script', formatVersion: 1, ...by_, presses });
  if (!script.ok) throw new Error(JSON.stringify(script.error));
  const plan = makeRunPlan(spec, protocol);
  const input = { spec, protocol, plan, script: script.value };
  return rehearse({ ...input, protocolHash: 'none', startWallMs: 0, tell: tellReadBack });
}

function done(name: CaseName, presses: unknown): Rehearsal {
  const result = outcome(name, presses);
  if (!result.ok) throw new Error(problemLine(result.error));
  return result.value;
}

function lineOf(presses: unknown, by?: string): string {
  const result = outcome('two-veneers', presses, by);
  return result.ok ? 'ok' : problemLine(result.error);
}

const demoRows = (name: string) => JSON.parse(textOf(`demo-data/scripts/${name}.json`)).presses;

/** A ceiling for the eight-unit case, so that a longer template is noticed and defended. */
/** Excess, lifted gel and each contact are pressed by themselves, and provisionals come off. */
const PRESSES_MAX = 190;

/**
 * The rule of the house: a step that is done together takes one press a round (two for a dwell that
 * nothing else begins), any other no more than that for each subject, an exposure one press each,
 * and one more when the light is put away.
 */
function pressesAllowed(layout: Layout): number {
  let allowed = 0;
  for (const [stepId, rounds] of layout.rounds) {
    const { step } = present(rounds[0]?.[0], stepId);
    const subjects = rounds.flat();
    const turns = step.together ? rounds.length : subjects.length;
    const { action } = step;
    if (action.kind === 'expose') {
      const plans = subjects.flatMap((i) => surfacePlans(layout, i));
      allowed += plans.reduce((n, plan) => n + plan.positions, 0) + layout.plan.mixes.length;
    } else if (action.kind === 'dwell') allowed += turns * (step.beginsWith ? 1 : 2);
    else allowed += turns * (action.kind === 'coats' ? action.count.value : 1);
  }
  return allowed;
}

describe('following', () => {
  it('runs the eight-unit case to its end inside every bound, and says how often it is pressed', () => {
    const eight = done('eight-upper-veneers', demoRows('follow-eight'));
    expect(eight.view.finished).toBe(true);
    expect(eight.log.state.breaches).toEqual([]);
    expect(eight.view.teeth.map((t) => t.state)).toEqual(Array(8).fill('done'));
    console.info(`presses of the eight-unit case: ${eight.presses}`, eight.pressesByStage);
    const allowed = pressesAllowed(layoutOf(eight.log.state));
    expect(eight.presses).toBeLessThanOrEqual(allowed);
    expect(eight.presses).toBeLessThanOrEqual(PRESSES_MAX);
    // Three rounds of two with a press each way; two teeth begun each by itself and ended together; a rinse
    // for each of the four rounds; mixing and drying.
    expect(eight.pressesByStage).toMatchObject({ etch: 3 * 2 + 2 + 1 + 4 + 2 });
    const sum = Object.values(eight.pressesByStage).reduce((a, b) => a + b, 0);
    expect(sum).toBe(eight.presses);
  });

  it('leaves a record that folds to the same state', () => {
    const two = done('two-veneers', [{ follow: true }]);
    expect(replay(two.log.records).state).toEqual(two.log.state);
  });

  it('takes as much longer as the pace is slower, chemistry apart', () => {
    const usual = done('two-veneers', [{ follow: true }]);
    const slow = done('two-veneers', [{ follow: true, paceFactor: 1.2 }]);
    const dwellsMs = usual.endedAtMs - (slow.endedAtMs - usual.endedAtMs) / 0.2;
    expect(slow.endedAtMs).toBeGreaterThan(usual.endedAtMs * 1.1);
    expect(dwellsMs).toBeGreaterThan(0);
  });

  it('stops before the step it is told to stop at, and goes on from there', () => {
    const until = done('two-veneers', [{ at: 0, follow: true, until: 'etch' }]);
    expect(until.view.offers[0]).toMatchObject({ step: 'etch', kind: 'start' });
    const whole = done('two-veneers', [{ at: 0, follow: true, until: 'etch' }, { follow: true }]);
    expect(whole.view.finished).toBe(true);
  });
});

describe('the two veneers with slips', () => {
  const slips = done('two-veneers', demoRows('two-veneers-with-slips'));

  it('leave exactly the breaches that the script contains', () => {
    // Worked out by hand from the rows of the script and the bounds of the template.
    const seconds = slips.log.state.breaches
      .filter((b) => b.kind !== 'exposure-short')
      .map((b) => [b.kind, b.of, b.subject, b.by / 1000]);
    expect(seconds).toEqual([
      ['over', 'acid', 'unit:21', 5], // 125 s of at most 120 s
      ['short', 'etch', 'tooth:11', 3], // 12 s of at least 15 s
      ['over', 'etch', 'tooth:21', 3], // 65 s, corrected to 63 s, of at most 60 s
      ['short', 'etch-rinse', 'tooth:21', 2], // 8 s of at least 10 s
      ['late', 'etched-surface', 'tooth:11', 30], // 150 s of at most 120 s
      ['late', 'etched-surface', 'tooth:21', 30],
    ]);
  });

  it('say how much light the skipped unit is missing', () => {
    const short = slips.log.state.breaches.filter((b) => b.kind === 'exposure-short');
    const tooth = present(
      slips.view.teeth.find((t) => t.tooth === '21'),
      'tooth 21',
    );
    const owedMs = tooth.surfaces.reduce((ms, s) => ms + s.setMs - s.givenMs, 0);
    expect(short).toMatchObject([{ of: 'expose', subject: 'tooth:21', by: owedMs }]);
    expect(owedMs).toBeGreaterThan(0);
    expect(tooth.state).toBe('skipped');
  });

  it('tell the cues that came due, and not those that a press came before', () => {
    const heard = slips.cues.filter((c) => c.cue.kind !== 'now' && c.cue.kind !== 'nearing');
    expect(heard.map((c) => `${c.cue.kind} ${c.cue.of} ${c.cue.subjects.join(' ')}`)).toEqual([
      'over acid unit:21',
      'over etch tooth:21',
      'window-closing etched-surface tooth:11 tooth:21',
      'window-broken etched-surface tooth:11 tooth:21',
      // Followed from there: the second contact of the second unit comes up to its minute.
      'window-closing floss-soon contact:21-22',
    ]);
    expect(heard.every((c) => c.hasSounded)).toBe(true);
    // The maximum of 60 s counts from the start of the etch on tooth 21, 68 s before its late end.
    const started = slips.log.state.runs['etch@tooth:21']?.startedAt?.loMs ?? Number.NaN;
    expect(heard[1]?.dueAtMs).toBe(started + 60_000);
  });
});

/** The first entry of each press; a press of a list has more, and the tones are no press. */
const pressedIn = ({ log }: Pick<Rehearsal, 'log'>) =>
  log.records.filter(
    ({ press, event }, i) =>
      event.type !== 'tones-heard' && log.records.findIndex((r) => r.press === press) === i,
  );

describe('rows', () => {
  it('count from the opening, or from the end of the row before', () => {
    const result = done('two-veneers', [
      { at: '1:00', press: 'next' },
      { after: '30 s', press: 'next' },
      { at: '2:00', note: 'hello' },
    ]);
    const stamps = pressedIn(result).map((r) => r.stamp.monoMs);
    expect(stamps).toEqual([0, 60_000, 90_000, 120_000]);
  });

  it('say who pressed', () => {
    const result = done('two-veneers', [
      { at: 0, press: 'next', by: 'dentist-a' },
      { at: 1, press: 'next', by: 'assistant-b' },
    ]);
    expect(pressedIn(result).map((r) => r.by)).toEqual(['dentist-a', 'dentist-a', 'assistant-b']);
  });

  it('put the device to sleep, start it again and move its clock', () => {
    const result = done('two-veneers', [
      { at: '10 s', press: 'next' },
      { at: '20 s', sleep: '60 s' },
      { at: '90 s', reload: '5 s' },
      { at: '2:00', moveWall: '-1:00' },
      { at: '3:00', note: 'hello' },
    ]);
    expect(result.log.state.gaps.map((g) => [g.cause, g.loMs, g.hiMs])).toEqual([
      ['asleep-or-moved', 0, 60_000],
      ['closed', 0, 5000],
      ['moved-back', 0, 0],
    ]);
    expect(result.log.state.notes[0]?.at).toEqual({ loMs: 115_000, hiMs: 180_000 });
    const settled = done('two-veneers', [
      { at: '20 s', sleep: '60 s' },
      { at: '90 s', settleGap: '1:00' },
      { at: '2:00', note: 'hello' },
    ]);
    expect(settled.log.state.notes[0]?.at).toEqual({ loMs: 120_000, hiMs: 120_000 });
  });

  it('take every command of the chair', () => {
    const result = done('two-veneers', [
      { follow: true, until: 'etch' },
      { after: '1 s', role: { person: 'dentist-a', role: 'dentist' } },
      { after: '1 s', addMix: { units: ['21'], reason: 'one at a time' } },
      { after: '1 s', probe: { mix: '1', found: 'soft' } },
      { after: '4 s', press: { kind: 'start', step: 'etch', subjects: ['tooth:11'] } },
      { after: '20 s', press: { kind: 'end', step: 'etch', subjects: ['11'] } },
      {
        after: '5 s',
        wayBack: { id: 'etched-saliva', mishap: 'saliva', subjects: ['11'], reason: 'a slip' },
      },
      { follow: true },
      { after: '10 s', close: { by: 'dentist-a', role: 'dentist' } },
    ]);
    expect(result.log.state.waysBack).toHaveLength(1);
    expect(result.log.state.plan.mixes).toEqual([['11'], ['21']]);
    expect(result.log.state.closed).not.toBeNull();
  });

  it.each([
    [
      [{ at: 0, press: { kind: 'start', step: 'etching', subjects: ['11'] } }],
      'script.presses[0].press.step: expected a step of the protocol, got "etching"',
    ],
    [
      [{ at: 0, press: { kind: 'start', step: 'etch', subjects: ['11', '48'] } }],
      'script.presses[0].press.subjects[1]: expected once each: tooth:11, tooth:21, got "48"',
    ],
    [
      [{ at: 0, press: { kind: 'start', step: 'etch', subjects: ['11', '11'] } }],
      'script.presses[0].press.subjects[1]: expected once each: tooth:11, tooth:21, got "11"',
    ],
    [
      [{ at: 0, press: { kind: 'start', step: 'etch' } }],
      'script.presses[0].press.subjects: expected once each: tooth:11, tooth:21, got nothing',
    ],
    [
      [{ at: '5 s', press: { kind: 'start', step: 'etch', subjects: ['11'] } }],
      'script.presses[0]: expected something that can be done at 5000 ms, got not-yet (prime-again@case)',
    ],
    [
      [{ at: 0, press: 'next', by: 'nobody' }],
      'script.presses[0].by: expected a person of the case, got "nobody"',
    ],
    [
      [{ follow: true }, { at: '1 s', press: 'next' }],
      /^script\.presses\[1\]\.at: expected a time not before \d+ ms, when the rows above are over, got "1 s"$/,
    ],
    [
      [{ follow: true }, { after: '1 s', press: 'next' }],
      'script.presses[1]: expected something to press, got "nothing is offered any more"',
    ],
    [
      [{ follow: true, until: 'etching' }],
      'script.presses[0].until: expected a step of the protocol, got "etching"',
    ],
    [
      [{ at: 0, settleGap: '5 s' }],
      'script.presses[0].settleGap: expected a gap to settle, got "none so far"',
    ],
    [
      [{ at: 0, wayBack: { id: 'swim', mishap: 'saliva', subjects: ['11'], reason: 'x' } }],
      'script.presses[0].wayBack.id: expected a way back of the protocol, got "swim"',
    ],
    [
      [{ at: 0, wayBack: { mishap: 'saliva', subjects: ['tooth:48'], reason: 'x' } }],
      'script.presses[0].wayBack.subjects[0]: expected a subject of the case such as "tooth:11", got "tooth:48"',
    ],
  ])('%j cannot be carried out', (rows, line) => {
    expect(lineOf(rows)).toMatch(line);
  });

  it('name the person of the whole script where it is unknown', () => {
    expect(lineOf([{ at: 0, press: 'next' }], 'nobody')).toBe(
      'script.by: expected a person of the case, got "nobody"',
    );
  });
});
