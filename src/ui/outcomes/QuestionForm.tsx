import { useState } from 'react';
import type { EndPoint } from '../../outcomes/life-types.ts';
import { acceptedWith, rateInForce, rateOfQuestion } from '../../outcomes/model/accepted.ts';
import { END_POINTS } from '../../outcomes/vocabulary.ts';
import { acceptedTold, groupWords, outcomeWords } from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Check, Segmented } from '../parts/Segmented.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { type PartProps, titled } from './part-props.ts';
import { percentText, rateIn } from './rate-entry.ts';

/** The end point, the rate that is accepted and the limits that count: fixed before anything is compared. */
export function QuestionForm({ model, input, read, isExample }: PartProps) {
  const times = useTimes();
  const isReader = useApp((s) => s.standing !== 'writer');
  const { question, earlier } = input.reviews;
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
  const told = (asked: NonNullable<typeof question>): string =>
    groupWords.questionFixed({
      on: times.dateOf(asked.onDay),
      endPoint: outcomeWords.endPoints[asked.endPoint],
      limits: asked.limits.map(titleOf),
      accepted: acceptedTold(rateOfQuestion(asked)),
    });
  const fix = async (): Promise<void> => {
    const yearlyRate = rateIn(percent);
    setWrong(yearlyRate === null);
    if (yearlyRate === null) return;
    const accepted = acceptedWith(input.reviews, { endPoint, yearlyRate });
    const asked = { endPoint, limits, accepted };
    const kept = await read.followUps?.fixQuestion({ question: asked, by: null });
    setFailed(kept?.ok !== true);
    if (kept?.ok) setTyped(null);
  };
  const choose = (next: EndPoint): void => {
    setEndPoint(next);
    setTyped(null);
    setWrong(false);
  };
  const toggle = (limit: string, isOn: boolean): void =>
    setLimits(isOn ? [...limits, limit] : limits.filter((each) => each !== limit));
  return (
    <Section title={titled(groupWords.questionTitle, isExample)} lede={groupWords.questionLede}>
      {question !== null && <p className="outcomes-counts">{told(question)}</p>}
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
        <fieldset className="outcomes-limits">
          <legend className="lw-field-label">{groupWords.questionLimits}</legend>
          {offered.length === 0 && <p>{groupWords.questionNoLimits}</p>}
          {offered.map((limit) => (
            <Check
              key={limit}
              label={titleOf(limit)}
              checked={limits.includes(limit)}
              onChange={(isOn) => toggle(limit, isOn)}
            />
          ))}
        </fieldset>
        {isFailed && <Banner tone="broken" words={groupWords.notKept} />}
        <Button
          rank={question === null ? 'main' : 'plain'}
          disabled={isReader || isExample}
          onPress={() => void fix()}
        >
          {question === null ? groupWords.questionFix : groupWords.questionChange}
        </Button>
      </div>
      {earlier.length > 0 && (
        <Disclosure summary={groupWords.questionEarlier}>
          <ul className="outcomes-lines">
            {earlier.map((asked) => (
              <li key={asked.id}>{told(asked)}</li>
            ))}
          </ul>
        </Disclosure>
      )}
    </Section>
  );
}
