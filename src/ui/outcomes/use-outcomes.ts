/** What the page of outcomes is drawn from: the recall visits of this tablet, or an invented clinic. */
import { useEffect, useMemo, useState } from 'react';
import type { EndPoint } from '../../outcomes/life-types.ts';
import { inventedClinic } from '../../outcomes/model/invented-clinic.ts';
import type { OutcomesInput, OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import { NO_REVIEWS } from '../../outcomes/review-types.ts';
import { askOutcomes } from '../../runtime/outcomes/ask-outcomes.ts';
import { useApp, usePlanner } from '../shared/session-context.ts';
import type { ReadFollowUps } from '../shared/use-follow-ups.ts';

/** What is asked for on this page. */
export interface Wanted {
  readonly endPoint: EndPoint;
  readonly person: string | null;
  readonly isExample: boolean;
  readonly isForLead: boolean;
}

const EXAMPLE = { patients: 150, unitsEach: 4, years: 6, everyMonths: 6, lostShare: 0.12, seed: 4 };

/** The invented clinic has a question, so that every part of the page is seen. */
function exampleInput(today: string): Pick<OutcomesInput, 'followUps' | 'reviews'> {
  const followUps = inventedClinic({ ...EXAMPLE, today });
  const limits = [
    ...new Set(
      followUps.flatMap(({ bonded }) =>
        (bonded?.units ?? []).flatMap((unit) => unit.limits.map(({ limit }) => limit)),
      ),
    ),
  ];
  const question = { endPoint: 'retention', limits, onDay: today } as const;
  const teller = { id: 'invented', by: null, atWallMs: 0 };
  return { followUps, reviews: { ...NO_REVIEWS, question: { ...question, ...teller } } };
}

/** What the figures are worked out from; null until the visits were read. */
export function useInput(
  read: ReadFollowUps,
  { endPoint, person, isExample, isForLead }: Wanted,
): OutcomesInput | null {
  const everyMonths = useApp((s) => s.settings.recallMonths);
  const { isRead, list, reviews, today } = read.state;
  return useMemo(() => {
    if (!isRead) return null;
    const from = isExample
      ? exampleInput(today)
      : { followUps: list.map(({ followUp }) => followUp), reviews };
    return { ...from, today, endPoint, everyMonths, person, isForLead };
  }, [isRead, list, reviews, today, isExample, endPoint, everyMonths, person, isForLead]);
}

export interface Found {
  readonly model: OutcomesModel | null;
  readonly isFailed: boolean;
}

const NOTHING: Found = { model: null, isFailed: false };

/** The figures; what stood there stays until the new ones are worked out. */
export function useModel(input: OutcomesInput | null): Found {
  const planner = usePlanner();
  const [found, setFound] = useState<Found>(NOTHING);
  useEffect(() => {
    if (input === null) return undefined;
    return askOutcomes(planner, { ask: 'model', input }, (answer) => {
      if (answer.found === 'model') setFound({ model: answer.model, isFailed: false });
      if (answer.found === 'failed') setFound({ model: null, isFailed: true });
    });
  }, [planner, input]);
  return found;
}
