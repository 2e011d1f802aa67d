import { useEffect, useRef, useState } from 'react';
import { askOutcomes } from '../../runtime/outcomes/ask-outcomes.ts';
import type { OutcomesAnswer } from '../../runtime/planner/plan-messages.ts';
import { groupWords, shareWords } from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { useApp, usePlanner, useTimes } from '../shared/session-context.ts';
import type { PartProps } from './part-props.ts';

type Standing = { readonly at: number } | 'stopped' | 'failed' | 'not-kept' | null;

/** One and the same for everybody, so that a review can be worked out again. */
const SEED = 1;

/** The way to make a review: worked out in the planning thread, noted as soon as it is there. */
export function ReviewMake({ model, input, read, isExample }: PartProps) {
  const planner = usePlanner();
  const times = useTimes();
  const isReader = useApp((s) => s.standing !== 'writer');
  const [standing, setStanding] = useState<Standing>(null);
  const stop = useRef<(() => void) | null>(null);
  useEffect(() => () => stop.current?.(), []);
  const { question } = input.reviews;
  const { followUps } = read;
  if (question === null) return <p>{groupWords.reviewNeeds}</p>;
  if (question.endPoint !== model.endPoint) return <p>{groupWords.reviewOther}</p>;
  const { notBefore, open, comparisons } = model.review;
  const hear = async (answer: OutcomesAnswer): Promise<void> => {
    if (answer.found === 'part') setStanding({ at: answer.done / answer.of });
    else if (answer.found === 'failed') setStanding('failed');
    else if (answer.found === 'compared') {
      const { endPoint, limits, onDay } = question;
      const review = {
        onDay: model.today,
        question: { endPoint, limits, onDay },
        compared: answer.compared,
      };
      const kept = await followUps?.noteReview({ review, by: null });
      setStanding(kept?.ok ? null : 'not-kept');
    }
  };
  const make = (): void => {
    setStanding({ at: 0 });
    stop.current = askOutcomes(planner, { ask: 'review', input, seed: SEED }, (answer) => {
      void hear(answer);
    });
  };
  const halt = (): void => {
    stop.current?.();
    stop.current = null;
    setStanding('stopped');
  };
  if (notBefore !== null) return <p>{groupWords.reviewWaits(times.dateOf(notBefore))}</p>;
  if (standing !== null && typeof standing === 'object') {
    return (
      <div className="outcomes-form">
        <label>
          {groupWords.reviewWorking}
          <progress className="outcomes-progress" max={1} value={standing.at} />
        </label>
        <p role="status">{groupWords.reviewPart(shareWords(standing.at))}</p>
        <Button onPress={halt}>{groupWords.reviewStop}</Button>
      </div>
    );
  }
  return (
    <div className="outcomes-form">
      <p>{groupWords.reviewOpen({ open, of: comparisons })}</p>
      {standing === 'stopped' && <p role="status">{groupWords.reviewStopped}</p>}
      {standing === 'failed' && <Banner tone="broken" words={groupWords.reviewFailed} />}
      {standing === 'not-kept' && <Banner tone="broken" words={groupWords.reviewNotKept} />}
      <Button disabled={isReader || isExample || comparisons === 0} onPress={make}>
        {groupWords.reviewMake}
      </Button>
    </div>
  );
}
