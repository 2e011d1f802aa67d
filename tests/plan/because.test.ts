/** Why each bar of a plan begins when it does: small plans, worked out by hand. */
import { expect, test } from 'vitest';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Step } from '../../src/protocol/types.ts';
import { caseOf, confirm, dwell, protocolOf, step, window } from '../engine/fixture.ts';

function reasons(steps: readonly Step[], windows: Parameters<typeof protocolOf>[1] = {}) {
  const protocol = protocolOf(steps, windows);
  const { timeline } = makePlan({ spec: caseOf(['11']), protocol, tables: null });
  return Object.fromEntries(
    timeline.bars.map(({ step: id, part, because }) => [
      `${id}/${part}`,
      because.step === null ? because.kind : `${because.kind} ${because.step}`,
    ]),
  );
}

test('what comes first, what has to act, and who is busy', () => {
  const dentist = { by: 'dentist' } as const;
  const found = reasons([
    step('clean', 'tooth', confirm, { ...dentist, paceSeconds: 30 }),
    step('acid', 'tooth', dwell(60, 90), { ...dentist, after: ['clean'], hands: [4, 4] }),
    step('other', 'case', confirm, { ...dentist, paceSeconds: 20 }),
  ]);
  expect(Object.values(found)).toContain('opening');
  expect(found['acid/apply']).toMatch(/^(after clean|busy other)$/);
  expect(found['acid/finish']).toBe('acts acid');
  // One of the two that need nothing before them begins; the other waits for the dentist.
  expect(
    [found['clean/hands'], found['other/hands']].filter((kind) => kind === 'opening'),
  ).toHaveLength(1);
});

test('a minimum of a window is something that has to act', () => {
  const found = reasons(
    [
      step('out', 'case', confirm, { by: 'dentist', paceSeconds: 5 }),
      step('use', 'case', confirm, { by: 'assistant', after: ['out'], paceSeconds: 5 }),
    ],
    { windows: [window('warm', 'out/end -> use/end', { minS: 600, protects: 'warm' })] },
  );
  expect(found['use/hands']).toBe('acts out');
});
