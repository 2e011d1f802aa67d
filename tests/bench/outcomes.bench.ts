/**
 * The page of outcomes of a clinic with 2,000 units and 20,000 unit visits, drawn from a seed: how long the
 * entries take to be read and folded the first time, how long the figures of the page take afterwards, and a yearly review.
 */
import { foldFollowUp } from '../../src/outcomes/follow-up.ts';
import type { FollowUp, FollowUpSaid } from '../../src/outcomes/follow-up-types.ts';
import { inventedClinic } from '../../src/outcomes/model/invented-clinic.ts';
import { outcomesModel } from '../../src/outcomes/model/outcomes-model.ts';
import type { OutcomesInput } from '../../src/outcomes/model/outcomes-types.ts';
import { reviewWork } from '../../src/outcomes/model/review.ts';
import { NO_REVIEWS } from '../../src/outcomes/review-types.ts';
import { asFact } from '../../src/runtime/facts/fact.ts';
import { FactHistory } from '../../src/runtime/facts/fact-history.ts';

const TODAY = '2026-11-30';
const RUNS = 7;
const CLINIC = { patients: 500, unitsEach: 4, years: 8, everyMonths: 4, lostShare: 0.2, seed: 7 };

const rounded = (ms: number): number => Math.round(ms * 10) / 10;

function taken(work: () => unknown): number {
  const startMs = performance.now();
  work();
  return performance.now() - startMs;
}

function median(work: () => unknown): number {
  const all = Array.from({ length: RUNS }, () => taken(work)).sort((a, b) => a - b);
  return rounded(all[Math.floor(RUNS / 2)] ?? 0);
}

/** The entries of one case as facts: each visit follows the one before. */
function factsOf({ caseId, bonded, visits }: FollowUp) {
  const said: FollowUpSaid[] = [
    ...(bonded === null ? [] : [bonded]),
    ...visits.map(({ visit }): FollowUpSaid => ({ what: 'visited', visit })),
  ];
  let after: readonly string[] = [];
  return said.map((each) => {
    const fact = asFact({
      kind: 'follow-up',
      item: caseId,
      said: each,
      after,
      tablet: 'a',
      by: null,
      atWallMs: 0,
    });
    after = [fact.id];
    return fact;
  });
}

export default function bench() {
  const followUps = inventedClinic({ ...CLINIC, today: TODAY });
  const unitVisits = followUps.reduce(
    (sum, { visits }) => sum + visits.reduce((n, { visit }) => n + visit.units.length, 0),
    0,
  );
  const facts = followUps.map((one) => ({ caseId: one.caseId, facts: factsOf(one) }));
  const limits = ['window/open-adhesive', 'window/working-time'];
  const question = {
    endPoint: 'retention',
    limits,
    onDay: TODAY,
    id: 'q',
    by: null,
    atWallMs: 0,
  } as const;
  const input: OutcomesInput = {
    followUps,
    reviews: { ...NO_REVIEWS, question },
    today: TODAY,
    endPoint: 'retention',
    everyMonths: 12,
    person: null,
    isForLead: false,
  };
  const units = followUps.reduce((sum, { bonded }) => sum + (bonded?.units.length ?? 0), 0);
  const about = { units, unitVisits };
  return [
    {
      ...about,
      what: 'fold all entries',
      ms: median(() => facts.map((one) => foldFollowUp(one.caseId, new FactHistory(one.facts)))),
    },
    {
      ...about,
      what: 'hand over to the planning thread',
      ms: median(() => structuredClone(input)),
    },
    {
      ...about,
      what: 'figures of the page',
      firstMs: rounded(taken(() => outcomesModel(input))),
      ms: median(() => outcomesModel(input)),
      aimMs: 1000,
    },
    {
      ...about,
      what: 'yearly review',
      ms: rounded(
        taken(() => {
          const work = reviewWork(input, 1);
          for (let n = 0; n < work.portions; n += 1) work.portion(n);
          work.compared();
        }),
      ),
    },
  ];
}
