// @vitest-environment jsdom
/** One press takes another way over; nothing outside the project to compare with. */
import { screen, waitFor } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it } from 'vitest';
import { err } from '../../src/base/result.ts';
import { adopted, alternativeChoices, compareAlternatives } from '../../src/plan/alternatives.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import type { Planner, Planning } from '../../src/runtime/planner/planner.ts';
import { Plan } from '../../src/ui/plan/Plan.tsx';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { fakeSession, show } from './fake-session.tsx';

const spec = { ...caseNamed('four-veneers-universal'), id: 'four' };
const protocol = protocolNamed(spec.protocol);
const entry = { protocol, hash: 'h', approval: null, origin: 'template' as const };

const worked = new Map<string, Planning>();

/** Worked out once for each case, so that no screen waits for it. */
function finished(of: CaseFile): Planning {
  const key = JSON.stringify(of);
  const before = worked.get(key);
  if (before !== undefined) return before;
  const input = { spec: of, protocol, tables: null, risk: { samples: 20, seed: 1 } };
  const plan = makePlan(input);
  const alternatives = compareAlternatives(input, plan);
  const planning = { plan, alternatives, left: 0, failed: null };
  worked.set(key, planning);
  return planning;
}

beforeAll(() => {
  for (const a of finished(spec).alternatives) {
    if (a.kind === 'mixes' && !a.isPlanned) finished(adopted(spec, a));
  }
});

/** Answers at once, and tells for which case it was asked. */
function plannerThatAnswers(asked: CaseFile[]): Planner {
  return {
    tables: null,
    plan(o, onProgress) {
      asked.push(o.spec);
      onProgress(finished(o.spec));
      return () => undefined;
    },
    compare: () => () => undefined,
    opening: () => () => undefined,
    outcomes: () => null,
    drill: () => null,
    replan: () => undefined,
  };
}

function shown(of: CaseFile = spec) {
  const session = fakeSession({ prepared: [of], protocols: [entry] });
  session.saveCase.mockImplementation(async (kept) => {
    session.store.setState({ prepared: [kept] });
    return { ok: true, value: null };
  });
  const asked: CaseFile[] = [];
  show(<Plan id={of.id} />, { session, planner: plannerThatAnswers(asked) });
  return { session, asked };
}

describe('other ways to do it', () => {
  it('one press keeps another way with the case and plans it', async () => {
    const { session, asked } = shown();
    const before = await screen.findByRole('button', { name: /^Planned: .*portion/i });
    expect(before).toHaveAttribute('aria-pressed', 'true');
    const [other] = screen.getAllByRole('button', { name: /^Use this: .*portion/i });
    if (other === undefined) throw new Error('no other number of mixes');
    await userEvent.click(other);
    await waitFor(() => expect(asked.length).toBeGreaterThan(1));
    const kept = session.saveCase.mock.calls.at(-1)?.[0];
    expect(kept?.groups?.mixes?.reduce((sum, size) => sum + size, 0)).toBe(4);
    expect(asked.at(-1)?.groups).toEqual(kept?.groups);

    await userEvent.click(await screen.findByRole('button', { name: 'Back to what is computed' }));
    await waitFor(() => expect(session.saveCase.mock.calls.at(-1)?.[0]).toEqual(spec));
    await waitFor(() =>
      expect(screen.queryByRole('button', { name: 'Back to what is computed' })).toBeNull(),
    );
  });

  it('what is planned already changes nothing', async () => {
    const { session } = shown();
    const [planned] = await screen.findAllByRole('button', { name: /^Planned: / });
    if (planned === undefined) throw new Error('nothing is planned');
    const before = session.saveCase.mock.calls.length;
    await userEvent.click(planned);
    expect(session.saveCase.mock.calls).toHaveLength(before);
  });

  it('says why it cannot be kept', async () => {
    const { session } = shown();
    const [other] = await screen.findAllByRole('button', { name: /^Use this: / });
    if (other === undefined) throw new Error('no other way');
    session.saveCase.mockResolvedValue(
      err({ code: 'not-writer', place: 'window', expected: 'a writer', came: 'reader' }),
    );
    await userEvent.click(other);
    expect(await screen.findByText(/could not be used/)).toBeVisible();
    expect(screen.getByText(/This window is view only/)).toBeVisible();
  });

  it('a case with one unit has none, and says so', async () => {
    const one = { ...spec, units: spec.units.slice(0, 1) };
    finished(one);
    const input = { spec: one, protocol, tables: null };
    expect(alternativeChoices(input, makePlan(input).plan)).toEqual([]);
    shown(one);
    expect(await screen.findByText('There is no other way to compare.')).toBeVisible();
    expect(screen.getByRole('button', { name: 'Work it out again' })).toBeVisible();
  });
});
