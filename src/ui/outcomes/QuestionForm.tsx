import { useState } from 'react';
import type { EndPoint } from '../../outcomes/life-types.ts';
import { acceptedWith, rateInForce } from '../../outcomes/model/accepted.ts';
import type { Question } from '../../outcomes/review-types.ts';
import { END_POINTS } from '../../outcomes/vocabulary.ts';
import { groupWords, outcomeWords, questionTold } from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Check, Segmented } from '../parts/Segmented.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { type PartProps, titled } from './part-props.ts';
import { QuestionsDiffer, QuestionsEarlier } from './QuestionsBefore.tsx';
import { percentText, rateIn } from './rate-entry.ts';

/** The end point, the rate that is accepted and the limits that count: fixed before anything is compared. */
export function QuestionForm({ model, input, read, isExample }: PartProps) {
  const times = useTimes();
  const isReader = useApp((s) => s.standing !== 'writer');
  const { question, earlier, differing } = input.reviews;
  const [endPoint, setEndPoint] = useState(question?.endPoint ?? model.endPoint);
  const [limits, setLimits] = useState<readonly string[]>(question?.limits ?? []);
  const [typed, setTyped] = useState<string | null>(null);
  const [isWrong, setWrong] = useState(false);
  const [isFailed, setFailed] = useState(false);
  const percent = typed ?? percentText(rateInForce(input.reviews, endPoint).yearlyRate);
  const titles = new Map(model.limitTitles);
  // A limit that counted stays on the list, also where no unit names it any more.
  const offered = [...new Set([...titles.keys(), ...limits])];
  const titleOf = (limit: string): string => titles.get(limit) ?? limit;
  const told = (asked: Question): string => questionTold(asked, { dateOf: times.dateOf, titleOf });
  const keep = async (asked: Omit<Question, 'onDay'>): Promise<void> => {
    const kept = await read.followUps?.fixQuestion({ question: asked, by: null });
    setFailed(kept?.ok !== true);
    if (kept?.ok) setTyped(null);
  };
  const fix = async (): Promise<void> => {
    const yearlyRate = rateIn(percent);
    setWrong(yearlyRate === null);
    if (yearlyRate === null) return;
    const accepted = acceptedWith(input.reviews, { endPoint, yearlyRate });
    await keep({ endPoint, limits, accepted });
  };
  /** One of those that differ is fixed once more, as it stands. */
  const take = (asked: Omit<Question, 'onDay'>): void => {
    setEndPoint(asked.endPoint);
    setLimits(asked.limits);
    void keep(asked);
  };
  const choose = (next: EndPoint): void => {
    setEndPoint(next);
    setTyped(null);
    setWrong(false);
  };
  return (
    <Section title={titled(groupWords.questionTitle, isExample)} lede={groupWords.questionLede}>
      {question !== null && differing.length < 2 && (
        <p className="outcomes-counts">{told(question)}</p>
      )}
      {differing.length > 1 && (
        <QuestionsDiffer
          differing={differing}
          told={told}
          onTake={isReader || isExample ? null : take}
        />
      )}
      <div className="outcomes-form">
        <Segmented
          label={outcomeWords.endPoint}
          value={endPoint}
          options={END_POINTS.map((value) => ({ value, label: outcomeWords.endPoints[value] }))}
          onChange={choose}
        />
        <p className="lw-aside">{outcomeWords.endPointNote[endPoint]}</p>
        <TextField
          label={groupWords.accepted(outcomeWords.endPoints[endPoint])}
          hint={groupWords.acceptedHint}
          value={percent}
          unit={groupWords.acceptedUnit}
          inputMode="decimal"
          width="short"
          problem={isWrong ? groupWords.acceptedWrong : undefined}
          onChange={(text) => {
            setTyped(text);
            setWrong(false);
          }}
        />
        {question !== null && <p className="lw-aside">{groupWords.acceptedAnew}</p>}
        <Limits offered={offered} counting={limits} titleOf={titleOf} onChange={setLimits} />
        {isFailed && <Banner tone="broken" words={groupWords.notKept} />}
        <Button
          rank={question === null ? 'main' : 'plain'}
          disabled={isReader || isExample}
          onPress={() => void fix()}
        >
          {question === null ? groupWords.questionFix : groupWords.questionChange}
        </Button>
      </div>
      <QuestionsEarlier earlier={earlier} told={told} />
    </Section>
  );
}

function Limits(o: {
  readonly offered: readonly string[];
  readonly counting: readonly string[];
  readonly titleOf: (limit: string) => string;
  readonly onChange: (counting: readonly string[]) => void;
}) {
  const { offered, counting, titleOf, onChange } = o;
  return (
    <fieldset className="outcomes-limits">
      <legend className="lw-field-label">{groupWords.questionLimits}</legend>
      {offered.length === 0 && <p>{groupWords.questionNoLimits}</p>}
      {offered.map((limit) => (
        <Check
          key={limit}
          label={titleOf(limit)}
          checked={counting.includes(limit)}
          onChange={(isOn) =>
            onChange(isOn ? [...counting, limit] : counting.filter((each) => each !== limit))
          }
        />
      ))}
    </fieldset>
  );
}
