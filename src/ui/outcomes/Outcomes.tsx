import { useState } from 'react';
import { useLocation } from 'wouter';
import { END_POINTS } from '../../outcomes/vocabulary.ts';
import { outcomeWords } from '../../words/outcome-words.ts';
import { Banner, CautionNote } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { type ReadFollowUps, useFollowUps } from '../shared/use-follow-ups.ts';
import { keepView, keptView } from './kept-view.ts';
import { OutcomesAbout } from './OutcomesAbout.tsx';
import { OutcomesFirstDay } from './OutcomesFirstDay.tsx';
import { OutcomesFlags } from './OutcomesFlags.tsx';
import { OutcomesGroups } from './OutcomesGroups.tsx';
import { OutcomesOwn } from './OutcomesOwn.tsx';
import { OutcomesPersons } from './OutcomesPersons.tsx';
import { OutcomesReviews } from './OutcomesReviews.tsx';
import { OutcomesYears } from './OutcomesYears.tsx';
import type { PartProps } from './part-props.ts';
import './outcomes.css';
import { useInput, useModel } from './use-outcomes.ts';

const PARTS = ['years', 'groups', 'flags', 'reviews', 'own'] as const;
type Part = (typeof PARTS)[number];

const partOf = (place: string | undefined): Part => PARTS.find((part) => part === place) ?? 'years';

/** What recall visits found of the units that were bonded: as associations, with what each figure rests on. */
export function Outcomes({ part: place }: { readonly part?: string | undefined }) {
  const [, navigate] = useLocation();
  const read = useFollowUps();
  const [isExample, setExample] = useState(false);
  const [picked, setPicked] = useState(() => keptView().endPoint);
  const [person, setPerson] = useState<string | null>(null);
  const [isForLead, setForLead] = useState(false);
  const fixed = isExample ? null : read.state.reviews.question;
  const endPoint = picked ?? fixed?.endPoint ?? 'retention';
  const part = partOf(place);
  const input = useInput(read, { endPoint, person, isExample, isForLead });
  const { model, isFailed } = useModel(input);
  const show = (next: boolean): void => {
    setExample(next);
    setPerson(null);
  };
  return (
    <Frame
      place="record"
      title={outcomeWords.title}
      lede={outcomeWords.lede}
      actions={
        <Button onPress={() => show(!isExample)}>
          {isExample ? outcomeWords.exampleLeave : outcomeWords.example}
        </Button>
      }
    >
      {isExample && <Banner tone="attention" words={outcomeWords.invented} />}
      <CautionNote>{outcomeWords.association}</CautionNote>
      <Standing read={read} isExample={isExample} isFailed={isFailed} />
      <Segmented
        label={outcomeWords.endPoint}
        value={endPoint}
        options={END_POINTS.map((value) => ({ value, label: outcomeWords.endPoints[value] }))}
        onChange={(next) => {
          setPicked(next);
          // The steps of one end point are not those of another.
          keepView({ endPoint: next, day: null });
        }}
      />
      <Segmented
        labelUnseen
        label={outcomeWords.parts}
        value={part}
        options={PARTS.map((value) => ({ value, label: outcomeWords.part[value] }))}
        onChange={(next) => navigate(next === 'years' ? '/outcomes' : `/outcomes/${next}`)}
      />
      {input === null || model === null ? (
        !isFailed && (
          <p role="status">{input === null ? outcomeWords.reading : outcomeWords.working}</p>
        )
      ) : (
        <>
          <OutcomesAbout
            model={model}
            reviews={input.reviews}
            leftTwice={isExample ? 0 : read.state.leftTwice}
          />
          <Shown
            part={part}
            model={model}
            input={input}
            read={read}
            isExample={isExample}
            person={person}
            onPerson={setPerson}
            onLead={setForLead}
          />
        </>
      )}
    </Frame>
  );
}

interface ShownProps extends PartProps {
  readonly part: Part;
  readonly person: string | null;
  readonly onPerson: (person: string | null) => void;
  readonly onLead: (isOpen: boolean) => void;
}

function Shown({ part, person, onPerson, onLead, ...props }: ShownProps) {
  switch (part) {
    case 'years':
      return (
        <>
          {props.model.showing === 'counts' && <OutcomesFirstDay model={props.model} isFirst />}
          <OutcomesYears {...props} />
          {props.model.showing !== 'counts' && (
            <OutcomesFirstDay model={props.model} isFirst={false} />
          )}
        </>
      );
    case 'groups':
      return <OutcomesGroups {...props} />;
    case 'flags':
      return <OutcomesFlags {...props} />;
    case 'reviews':
      return <OutcomesReviews {...props} />;
    case 'own':
      return (
        <>
          <OutcomesOwn {...props} person={person} onPerson={onPerson} />
          {!props.isExample && <OutcomesPersons {...props} onLead={onLead} />}
        </>
      );
  }
}

/** What is missing in the figures, and why. */
function Standing(o: {
  readonly read: ReadFollowUps;
  readonly isExample: boolean;
  readonly isFailed: boolean;
}) {
  const { unread, takingIn, notTakenIn } = o.read.state;
  const isUnread = o.read.phase === 'failed';
  if (o.isFailed || isUnread) {
    return (
      <Banner
        tone="broken"
        words={isUnread ? outcomeWords.notRead : outcomeWords.failed}
        advice={outcomeWords.failedTodo}
      />
    );
  }
  if (o.isExample) return null;
  return (
    <>
      {takingIn !== null && <Banner tone="plain" words={outcomeWords.takingIn(takingIn)} />}
      {notTakenIn.length > 0 && (
        <Banner tone="attention" words={outcomeWords.notTakenIn(notTakenIn.length)} />
      )}
      {unread > 0 && <Banner tone="attention" words={outcomeWords.unread(unread)} />}
    </>
  );
}
