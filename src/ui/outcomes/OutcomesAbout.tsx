import { rateOfQuestion } from '../../outcomes/model/accepted.ts';
import type { OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import type { Reviews } from '../../outcomes/review-types.ts';
import { acceptedTold, outcomeWords } from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { useTimes } from '../shared/session-context.ts';

/** The end point, how many of what, and when the question was fixed: above every part of the page. */
export function OutcomesAbout(o: {
  readonly model: OutcomesModel;
  readonly reviews: Reviews;
  /** Cases whose lives count more than once. */
  readonly leftTwice: number;
}) {
  const { counts, endPoint } = o.model;
  return (
    <div className="outcomes-about">
      <p>
        {outcomeWords.endPointNote[endPoint]}{' '}
        <span className="lw-quiet">{outcomeWords.endPointWhy}</span>
      </p>
      <p className="outcomes-counts">
        {outcomeWords.countLine({
          lives: counts.lives,
          patients: counts.patients,
          failures: counts.failures,
          withFailure: counts.patientsWithFailure,
          unseen: counts.unseen,
        })}
      </p>
      <p className="lw-aside">
        {outcomeWords.lifeNote} {outcomeWords.unseenNote}{' '}
        {counts.leftOut > 0 && outcomeWords.leftOut(counts.leftOut)}
      </p>
      {o.leftTwice > 0 && <Banner tone="attention" words={outcomeWords.leftTwice(o.leftTwice)} />}
      <QuestionLine {...o} />
    </div>
  );
}

function QuestionLine({
  model,
  reviews,
}: {
  readonly model: OutcomesModel;
  readonly reviews: Reviews;
}) {
  const times = useTimes();
  const { question, differing } = reviews;
  if (differing.length > 1) {
    return (
      <Banner
        tone="attention"
        words={outcomeWords.questionDiffers}
        advice={outcomeWords.questionDiffersRate}
      />
    );
  }
  if (question === null) return <p className="lw-aside">{outcomeWords.questionNone}</p>;
  const titles = new Map(model.limitTitles);
  const fixed = outcomeWords.endPoints[question.endPoint];
  return (
    <p className="lw-aside">
      {outcomeWords.questionFixed({
        on: times.dateOf(question.onDay),
        endPoint: fixed,
        limits: question.limits.map((limit) => titles.get(limit) ?? limit),
        accepted: acceptedTold(rateOfQuestion(question)),
      })}{' '}
      {question.endPoint !== model.endPoint && outcomeWords.questionOther(fixed)}
    </p>
  );
}
