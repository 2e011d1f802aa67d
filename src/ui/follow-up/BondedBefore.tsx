import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import { bondedBeforeWords, followUpWords } from '../../words/follow-up-words.ts';
import {
  materialOptions,
  restorationOptions,
  restorationWord,
} from '../../words/material-words.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { toothLabel, toothName } from '../../words/subject-words.ts';
import { ArchPicker } from '../parts/ArchPicker.tsx';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import { useApp } from '../shared/session-context.ts';
import { useFirstFault } from '../shared/use-first-fault.ts';
import { useFollowUps } from '../shared/use-follow-ups.ts';
import { type BeforeDraft, beforeProblems, bondingOf, NEW_BEFORE } from './before-draft.ts';
import { NotRead } from './FollowUpFrame.tsx';
import { useKeptDraft } from './kept-draft.ts';
import './follow-up.css';

/** Adds units that were bonded before the app was used. */
export function BondedBefore() {
  const { phase, followUps, state } = useFollowUps();
  return (
    <Frame
      place="record"
      title={bondedBeforeWords.title}
      lede={bondedBeforeWords.lede}
      width="reading"
    >
      {followUps === null ? (
        <NotRead phase={phase} />
      ) : (
        <Form followUps={followUps} today={state.today} />
      )}
    </Frame>
  );
}

function Form({ followUps, today }: { readonly followUps: FollowUps; readonly today: string }) {
  const [, navigate] = useLocation();
  const { draft, change, forget } = useKeptDraft('before', () => NEW_BEFORE);
  const [lost, setLost] = useState<string | null>(null);
  const { body, tries, fail } = useFirstFault<HTMLFormElement>();
  const wrong = beforeProblems(draft, today);
  const problems = tries > 0 ? wrong : new Map<string, string>();
  const title = restorationWord(draft.restoration);
  const save = async (): Promise<void> => {
    if (wrong.size > 0) {
      fail();
      return;
    }
    const bonding = bondingOf(draft, { today, title });
    const kept = await followUps.addEarlier({ bonding, by: null });
    if (!kept.ok) {
      setLost(notKeptWords(kept.error));
      return;
    }
    forget();
    navigate(`/follow-up/${encodeURIComponent(kept.value)}`, { replace: true });
  };
  return (
    <form
      ref={body}
      className="recall"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <Fields {...{ draft, change, problems, today }} />
      {lost !== null && (
        <Banner tone="attention" words={bondedBeforeWords.notSaved} advice={lost} />
      )}
      <div className="follow-deeds">
        <Button type="submit" rank="main" size="chair">
          {bondedBeforeWords.save}
        </Button>
        <Link className="lw-way" href="/follow-up">
          {followUpWords.toList}
        </Link>
      </div>
    </form>
  );
}

function Fields(o: {
  readonly draft: BeforeDraft;
  readonly change: (next: BeforeDraft) => void;
  readonly problems: ReadonlyMap<string, string>;
  readonly today: string;
}) {
  const { draft, change, problems, today } = o;
  const notation = useApp((s) => s.settings.notation);
  const toggle = (tooth: string): void =>
    change({
      ...draft,
      teeth: draft.teeth.includes(tooth)
        ? draft.teeth.filter((each) => each !== tooth)
        : [...draft.teeth, tooth],
    });
  const teeth = problems.get('teeth');
  return (
    <>
      <div className="recall-who">
        <TextField
          label={bondedBeforeWords.chartRef}
          value={draft.chartRef}
          onChange={(chartRef) => change({ ...draft, chartRef })}
          problem={problems.get('chartRef')}
        />
        <TextField
          label={bondedBeforeWords.caseTitle}
          hint={bondedBeforeWords.caseTitleHint}
          value={draft.title}
          onChange={(title) => change({ ...draft, title })}
        />
        <SelectField
          label={bondedBeforeWords.restoration}
          value={draft.restoration}
          options={restorationOptions(draft.restoration)}
          onChange={(restoration) => change({ ...draft, restoration })}
        />
        <SelectField
          label={bondedBeforeWords.material}
          value={draft.material}
          options={materialOptions(draft.material)}
          onChange={(material) => change({ ...draft, material })}
        />
        <TextField
          label={bondedBeforeWords.bondedOn}
          type="date"
          value={draft.bondedOn}
          onChange={(bondedOn) => change({ ...draft, bondedOn })}
          problem={problems.get('bondedOn')}
        />
        <TextField
          label={bondedBeforeWords.seenFrom}
          type="date"
          value={draft.seenFrom ?? today}
          onChange={(seenFrom) => change({ ...draft, seenFrom })}
          problem={problems.get('seenFrom')}
        />
      </div>
      <Section title={bondedBeforeWords.teeth} lede={bondedBeforeWords.teethLede}>
        <ArchPicker
          label={bondedBeforeWords.teeth}
          selected={draft.teeth}
          onToggle={toggle}
          labelOf={(tooth) => toothLabel(tooth, notation)}
          nameOf={toothName}
        />
        {teeth !== undefined && (
          <p className="lw-field-problem" role="alert">
            {teeth}
          </p>
        )}
      </Section>
      <TextField
        label={bondedBeforeWords.dentist}
        hint={bondedBeforeWords.optional}
        value={draft.dentist}
        onChange={(dentist) => change({ ...draft, dentist })}
      />
      <PeopleChoices
        named={[draft.dentist]}
        onChoose={({ name }) => change({ ...draft, dentist: name })}
      />
    </>
  );
}
