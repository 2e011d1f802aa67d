import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { planEffect } from '../../src/plan/effect.ts';
import { parseScriptText } from '../../src/plan/parse-script.ts';
import { rehearse } from '../../src/plan/rehearsal.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { applyEdit } from '../../src/protocol/edit.ts';
import { parseCaseText } from '../../src/protocol/parse-text.ts';
import { ownTimesFrom } from '../../src/runtime/lead/lead-own-times.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { caseText } from '../protocol/documents.ts';
import { template } from './lead-support.ts';

const spec = (() => {
  const parsed = parseCaseText(caseText('two-veneers'));
  if (!parsed.ok) throw new Error(parsed.error[0]?.place);
  return parsed.value;
})();

describe('the effect of a change on a case', () => {
  const before = template();
  const effectOf = (value: number) => {
    const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
    const figure = { value, basis: { kind: 'practice' } } as const;
    const after = applyEdit(before, { do: 'set-figure', spot, figure });
    if (!after.ok) throw new Error(after.error.place);
    return planEffect({ spec, before, after: after.value, tables: null, seed: 3, samples: 200 });
  };

  it('is nothing when nothing changes', () => {
    const effect = effectOf(30_000);
    expect(effect.chairMs.after).toBe(effect.chairMs.before);
    expect(effect.pAnyBroken.after).toBe(effect.pAnyBroken.before);
    for (const { slackMs } of effect.windows) expect(slackMs.after).toBe(slackMs.before);
  });

  // Both teeth stand in one round: by hand, T = target, and the case ends that much earlier.
  it('five seconds less in one round of two teeth are five seconds less in the chair', () => {
    const { chairMs, windows } = effectOf(25_000);
    expect(chairMs.after - chairMs.before).toBe(-5_000);
    const etch = windows.find((window) => window.id === 'etch');
    expect((etch?.slackMs.after ?? 0) - (etch?.slackMs.before ?? 0)).toBe(5_000);
  });
});

describe('what the own records say', () => {
  const protocol = template();
  const script = parseScriptText(
    readFileSync(
      new URL('../../demo-data/scripts/two-veneers-with-slips.json', import.meta.url),
      'utf8',
    ),
  );
  if (!script.ok) throw new Error(script.error[0]?.place);
  const run = rehearse({
    tell: tellReadBack,
    spec,
    protocol,
    protocolHash: 'hash',
    plan: makeRunPlan(spec, protocol),
    script: script.value,
    startWallMs: 1_780_000_000_000,
  });
  if (!run.ok) throw new Error(run.error.place);
  const { log } = run.value;
  const times = ownTimesFrom(protocol, [log, log]);
  const stepOf = (id: string) => times.steps.find(({ step }) => step.id === id);

  it('counts cases, and leaves out protocols of another name', () => {
    expect(times.cases).toBe(2);
    expect(ownTimesFrom({ ...protocol, id: 'another' }, [log])).toMatchObject({
      cases: 0,
      steps: [],
    });
  });

  // By hand from the script: gel on 11, six seconds later on 21; off 11 eight seconds after that,
  // then off 21 as the script says. The medians are of these times, doubled by the second case.
  it('how long a step took is the time between its two presses', () => {
    const acid = stepOf('acid');
    const runs = Object.entries(log.state.runs).filter(([key]) => key.startsWith('acid@'));
    const lengths = runs
      .map(([, r]) => (r.endedAt?.loMs ?? 0) - (r.startedAt?.loMs ?? 0))
      .toSorted((a, b) => a - b);
    expect(acid?.took?.count).toBe(lengths.length * 2);
    const [low = 0, high = 0] = lengths;
    expect(acid?.took?.medianMs).toBe(Math.round((low + high) / 2));
  });

  it('the hands before the second gel are the six seconds of the script', () => {
    expect(stepOf('acid')?.people.map((p) => p.person)).toEqual(['Assistant B']);
    expect(stepOf('acid')?.hands?.medianMs).toBeGreaterThanOrEqual(6_000);
  });

  it('a window is broken exactly in the cases whose record says so', () => {
    const broken = new Set(
      log.state.breaches.filter((breach) => breach.what === 'window').map((breach) => breach.of),
    );
    for (const { window, cases, casesBroken, worstMs } of times.windows) {
      expect([window.id, casesBroken]).toEqual([window.id, broken.has(window.id) ? cases : 0]);
      expect(worstMs > 0).toBe(broken.has(window.id));
    }
  });
});
