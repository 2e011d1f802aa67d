import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { Visit } from '../../outcomes/follow-up-types.ts';
import { patientKey } from '../../outcomes/patient-key.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import { followUpWords, recallVisitWords } from '../../words/follow-up-words.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useTimes } from '../shared/session-context.ts';
import { useFirstFault } from '../shared/use-first-fault.ts';
import { chooseExaminer, useExaminer } from './examiner.ts';
import { OfCase } from './FollowUpFrame.tsx';
import { type KeptDraft, useKeptDraft } from './kept-draft.ts';
import { RecallBar } from './RecallBar.tsx';
import { RecallGone } from './RecallGone.tsx';
import { RecallGrades } from './RecallGrades.tsx';
import { RecallUnit } from './RecallUnit.tsx';
import { RecallWho } from './RecallWho.tsx';
import {
  allInPlace,
  changeUnit,
  draftOf,
  newVisit,
  noneSeen,
  othersInPlace,
  type VisitDraft,
  visitOf,
} from './visit-draft.ts';
import { gradeProblems, visitProblems } from './visit-problems.ts';
import './follow-up.css';

/** One recall visit of a case: noted anew, or corrected. */
export function RecallVisit(o: { readonly caseId: string; readonly of?: string }) {
  const title = o.of === undefined ? recallVisitWords.title : recallVisitWords.titleCorrect;
  return (
    <OfCase caseId={o.caseId} title={title}>
      {(row, { followUps, state }) => {
        const isFollowed = (caseId: string) => state.list.some((each) => each.caseId === caseId);
        const corrected = correctedVisit(row, o.of);
        if (o.of !== undefined && corrected === null) {
          return (
            <Frame place="record" title={title}>
              <Banner tone="plain" words={followUpWords.noVisits} />
            </Frame>
          );
        }
        const begin = () =>
          corrected === null
            ? newVisit(row.followUp, { isFollowed })
            : draftOf(corrected, row.units);
        return (
          <VisitForm
            {...{ row, followUps, begin, title }}
            today={state.today}
            of={o.of}
            list={state.list}
          />
        );
      }}
    </OfCase>
  );
}

/** The visit as the entry says it that is corrected; null where there is none. */
function correctedVisit({ followUp }: FollowUpRow, of: string | undefined): Visit | null {
  const { visits, differing } = followUp;
  const sides = differing.flatMap((one) => one.sides);
  const kept = visits.find(({ id }) => id === of) ?? sides.find(({ id }) => id === of);
  return kept?.visit ?? null;
}

interface FormProps {
  readonly row: FollowUpRow;
  readonly followUps: FollowUps;
  readonly begin: () => VisitDraft;
  readonly title: string;
  readonly today: string;
  readonly of: string | undefined;
  readonly list: readonly FollowUpRow[];
}

interface Noting {
  readonly visit: Visit;
  readonly isNoting: boolean;
  /** Words of why it was not kept; null when that is at a field. */
  readonly lost: string | null;
  readonly hasFailed: boolean;
  readonly problems: ReadonlyMap<string, string>;
  readonly note: () => Promise<void>;
}

/** What the form says, what is wrong with it, and its noting. Faults are told from the first try on. */
function useNoting(o: FormProps, { draft, forget }: KeptDraft<VisitDraft>, fail: () => void) {
  const [, navigate] = useLocation();
  const times = useTimes();
  const { row, followUps, of, today } = o;
  const [seen] = useState(row.followUp.heads);
  const examiner = useExaminer(o.list);
  const [phase, setPhase] = useState<'typed' | 'tried' | 'noting'>('typed');
  const [lost, setLost] = useState<string | null>(null);
  const visit = visitOf(draft, {
    units: row.units,
    people: row.followUp.bonded?.people ?? [],
    today,
    examiner: examiner(row),
    names: recallVisitWords.scaleNames,
  });
  const { caseId } = row;
  const faults = (): readonly Problem[] =>
    followUps.faultsOf({ caseId, visit, ...(of === undefined ? {} : { replaces: of }) });
  const about = { visit, followUp: row.followUp, replaces: of, dayOf: times.dateOf };
  const isReasoned = of === undefined || draft.reason.trim() !== '';
  const told = (): ReadonlyMap<string, string> =>
    new Map([
      ...visitProblems(faults(), about),
      ...gradeProblems(draft),
      ...(isReasoned ? [] : [['reason', followUpWords.reasonMissing] as const]),
    ]);
  const note = async (): Promise<void> => {
    if (phase === 'noting') return;
    setLost(null);
    if (told().size > 0) {
      setPhase('tried');
      fail();
      return;
    }
    setPhase('noting');
    const by = visit.examiner;
    const about = { caseId, visit, by };
    const kept = await (of === undefined
      ? followUps.noteVisit(about)
      : followUps.correctVisit({ ...about, of, seen, reason: draft.reason.trim() }));
    if (!kept.ok) {
      setLost(notKeptWords(kept.error));
      setPhase('tried');
      return;
    }
    chooseExaminer(by);
    forget();
    navigate(`/follow-up/${encodeURIComponent(caseId)}`, { replace: true });
  };
  const problems = phase === 'typed' ? NO_PROBLEMS : told();
  const noting: Noting = {
    ...{ visit, lost, problems, note },
    isNoting: phase === 'noting',
    hasFailed: problems.size > 0,
  };
  return noting;
}

const NO_PROBLEMS: ReadonlyMap<string, string> = new Map();

function VisitForm(o: FormProps) {
  const { row, of } = o;
  const { dateOf } = useTimes();
  const kept = useKeptDraft(`${row.caseId} ${of ?? 'new'}`, o.begin);
  const { draft, change } = kept;
  const { body, fail } = useFirstFault<HTMLFormElement>();
  const noting = useNoting(o, kept, fail);
  const { visit, isNoting, problems, note } = noting;
  const looked = draft.units.filter((unit) => !unit.isLeftOut);
  const isEach = (what: 'in-place' | 'not-seen'): boolean =>
    looked.length > 0 && looked.every(({ seen }) => seen === what);
  const hasOpen = looked.some(({ seen }) => seen === '') && looked.some(({ seen }) => seen !== '');
  const others = o.list.filter(
    ({ patient, caseId }) =>
      patientKey(patient) === patientKey(row.patient) && caseId !== row.caseId,
  );
  const place = (unit: string) => visit.units.findIndex((found) => found.unit === unit);
  return (
    <Frame
      place="record"
      title={o.title}
      lede={recallVisitWords.lede({
        ref: row.patient,
        title: row.title,
        on: dateOf(row.bondedOn),
      })}
      width="reading"
    >
      <form
        ref={body}
        className="recall"
        onSubmit={(event) => {
          event.preventDefault();
          void note();
        }}
      >
        {looked.length > 0 && (
          <div className="recall-all">
            <Button size="chair" on={isEach('in-place')} onPress={() => change(allInPlace(draft))}>
              {recallVisitWords.allInPlace}
            </Button>
            <Button size="chair" on={isEach('not-seen')} onPress={() => change(noneSeen(draft))}>
              {recallVisitWords.noneSeen}
            </Button>
          </div>
        )}
        {problems.has('visit.units') && (
          <p className="lw-field-problem">{problems.get('visit.units')}</p>
        )}
        <ul className="recall-units">
          {row.units.map((unit) => {
            const own = draft.units.find((each) => each.unit === unit.unit);
            if (own === undefined || own.isLeftOut) return null;
            return (
              <RecallUnit
                key={unit.unit}
                unit={unit}
                draft={own}
                onChange={(part) => change(changeUnit(draft, { unit: unit.unit, change: part }))}
                others={others}
                problems={problems}
                place={`visit.units[${place(unit.unit)}]`}
              />
            );
          })}
        </ul>
        {hasOpen && (
          <div>
            <Button onPress={() => change(othersInPlace(draft))}>{recallVisitWords.others}</Button>
          </div>
        )}
        <RecallGrades row={row} draft={draft} onChange={change} problems={problems} />
        <RecallGone row={row} draft={draft} isCorrection={of !== undefined} onChange={change} />
        <VisitEnd row={row} kept={kept} noting={noting} isCorrection={of !== undefined} />
        <RecallBar
          draft={draft}
          visit={visit}
          isNoting={isNoting}
          isCorrection={of !== undefined}
        />
      </form>
    </Frame>
  );
}

/** Who looked, why it is corrected, a note, and why it could not be noted. */
function VisitEnd(o: {
  readonly row: FollowUpRow;
  readonly kept: KeptDraft<VisitDraft>;
  readonly noting: Noting;
  readonly isCorrection: boolean;
}) {
  const { row, isCorrection } = o;
  const { draft, change, forget } = o.kept;
  const { visit, lost, hasFailed, problems } = o.noting;
  const [, navigate] = useLocation();
  return (
    <>
      <RecallWho row={row} draft={draft} visit={visit} onChange={change} problems={problems} />
      {isCorrection && (
        <TextField
          label={recallVisitWords.correctionReason}
          value={draft.reason}
          onChange={(reason) => change({ ...draft, reason })}
          problem={problems.get('reason')}
        />
      )}
      <TextField
        label={recallVisitWords.noteLabel}
        lines={2}
        value={draft.note}
        onChange={(text) => change({ ...draft, note: text })}
      />
      <div>
        <Button
          rank="quiet"
          onPress={() => {
            forget();
            navigate(`/follow-up/${encodeURIComponent(row.caseId)}`, { replace: true });
          }}
        >
          {recallVisitWords.leave}
        </Button>
      </div>
      {lost !== null && <Banner tone="attention" words={recallVisitWords.notNoted} advice={lost} />}
      {hasFailed && lost === null && (
        <Banner
          tone="attention"
          words={recallVisitWords.notNoted}
          advice={recallVisitWords.notNotedTodo}
        />
      )}
    </>
  );
}
