import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import {
  followUpWords,
  recallName,
  recallStanding,
  sightWords,
  unitKind,
  unitLabel,
} from '../../words/follow-up-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import { FollowUpExport } from '../shared/FollowUpExport.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { FollowUpContradictions } from './FollowUpContradictions.tsx';
import { FollowUpDiffering } from './FollowUpDiffering.tsx';
import { OfCase } from './FollowUpFrame.tsx';
import { ReasonSheet } from './ReasonSheet.tsx';
import { RecallsCalendar } from './RecallsCalendar.tsx';
import { type Deed, useFollowUpDeeds } from './use-follow-up-deeds.ts';
import { VisitTold } from './VisitTold.tsx';
import './follow-up.css';

/** What became of the units of one case. */
export function FollowUpCase({ caseId }: { readonly caseId: string }) {
  return (
    <OfCase caseId={caseId} title={followUpWords.title}>
      {(row, { followUps, state }) => <Told row={row} followUps={followUps} list={state.list} />}
    </OfCase>
  );
}

interface ToldProps {
  readonly row: FollowUpRow;
  readonly followUps: FollowUps;
  readonly list: readonly FollowUpRow[];
}

type Asked = { readonly what: 'strike' | 'end' | 'take-out'; readonly of: string };

function Told({ row, followUps, list }: ToldProps) {
  const [, navigate] = useLocation();
  const { dateOf } = useTimes();
  const [asked, setAsked] = useState<Asked | null>(null);
  const [seen, setSeen] = useState(row.followUp.heads);
  const { who, deeds } = useFollowUpDeeds({ row, followUps, list });
  const ask = (next: Asked): void => {
    setSeen(row.followUp.heads);
    setAsked(next);
  };
  const { caseId, followUp } = row;
  const visits = followUp.visits.toReversed();
  const differs = new Set(row.differing.flatMap(({ sides }) => sides.map(({ id }) => id)));
  return (
    <Frame
      place="record"
      title={row.title}
      lede={followUpWords.caseLede({ ref: row.patient, on: dateOf(row.bondedOn) })}
      actions={
        <Button
          rank="main"
          onPress={() => navigate(`/follow-up/${encodeURIComponent(caseId)}/visit`)}
        >
          {followUpWords.visitDo}
        </Button>
      }
    >
      <p className="follow-deeds">
        {row.origin === 'case' && (
          <Link className="lw-way" href={`/record/${caseId}`}>
            {followUpWords.toRecord}
          </Link>
        )}
        <Link className="lw-way" href="/follow-up">
          {followUpWords.toList}
        </Link>
        {row.origin === 'earlier' && <span className="lw-quiet">{followUpWords.earlier}</span>}
      </p>
      {followUp.unread.length > 0 && (
        <Banner tone="attention" words={followUpWords.unread(followUp.unread.length)} />
      )}
      {row.differing.map((differing) => (
        <FollowUpDiffering key={differing.visit} {...{ differing, row, deeds, who }} />
      ))}
      <FollowUpContradictions row={row} />
      <Units row={row} />
      <Section title={followUpWords.visitsTitle}>
        {visits.length === 0 && <p>{followUpWords.noVisits}</p>}
        <ul className="follow-visits">
          {visits.map((kept) => (
            <VisitTold
              key={kept.id}
              kept={kept}
              row={row}
              onStrike={
                differs.has(kept.id) ? undefined : () => ask({ what: 'strike', of: kept.id })
              }
            />
          ))}
        </ul>
      </Section>
      <Struck row={row} />
      <Recalls
        row={row}
        followUps={followUps}
        onEnd={() => ask({ what: 'end', of: '' })}
        onResume={deeds.resume}
      />
      <FollowUpExport caseId={caseId} />
      {row.origin === 'earlier' && (
        <div>
          <Button rank="quiet" onPress={() => ask({ what: 'take-out', of: '' })}>
            {followUpWords.takeOut}
          </Button>
        </div>
      )}
      {asked?.what === 'strike' && (
        <ReasonSheet
          title={followUpWords.strike}
          note={followUpWords.strikeNote}
          who={who}
          onDo={(said) => deeds.strike({ of: asked.of, seen, ...said })}
          onClose={() => setAsked(null)}
        />
      )}
      {asked?.what === 'end' && (
        <ReasonSheet
          title={followUpWords.endRecalls}
          note={followUpWords.endNote}
          reasons={followUpWords.endReasons}
          who={who}
          onDo={deeds.end}
          onClose={() => setAsked(null)}
        />
      )}
      {asked?.what === 'take-out' && (
        <ReasonSheet
          title={followUpWords.takeOut}
          note={followUpWords.takeOutNote}
          who={who}
          onDo={deeds.takeOut}
          onClose={() => setAsked(null)}
        />
      )}
    </Frame>
  );
}

/** Of each unit: what was found when, the latest first. */
function Units({ row }: Pick<ToldProps, 'row'>) {
  const notation = useApp((s) => s.settings.notation);
  const { dateOf } = useTimes();
  return (
    <Section title={followUpWords.unitsTitle}>
      <ul className="follow-units">
        {row.units.map((unit) => {
          const sights = row.followUp.visits
            .flatMap(({ id, visit }) =>
              visit.units
                .filter((found) => found.unit === unit.unit)
                .map((found) => ({ id, onDay: visit.onDay, found })),
            )
            .toReversed();
          return (
            <li key={unit.unit}>
              <p>
                <strong>{unitLabel(unit, notation)}</strong>{' '}
                <span className="lw-quiet">{unitKind(unit)}</span>
              </p>
              {sights.length === 0 ? (
                <p className="lw-quiet">{followUpWords.nothingFound}</p>
              ) : (
                <ul>
                  {sights.map(({ id, onDay, found }) => (
                    <li key={id}>{sightWords(found, dateOf(onDay))}</li>
                  ))}
                </ul>
              )}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

function Struck({ row }: Pick<ToldProps, 'row'>) {
  const { dateOf } = useTimes();
  const { struck } = row.followUp;
  if (struck.length === 0) return null;
  return (
    <Section title={followUpWords.struckTitle}>
      <ul className="follow-visits">
        {struck.map(({ id, visit, reason }) => (
          <li key={id}>
            <p>
              <s>{followUpWords.visitOn(dateOf(visit.onDay))}</s> {followUpWords.struck(reason)}
            </p>
          </li>
        ))}
      </ul>
    </Section>
  );
}

const MARKS: Readonly<Record<FollowUpRow['recalls']['all'][number]['state'], MarkShape>> = {
  ahead: 'empty',
  due: 'target',
  overdue: 'spilled',
  held: 'full',
  missed: 'struck',
};

function Recalls(o: {
  readonly row: FollowUpRow;
  readonly followUps: FollowUps;
  readonly onEnd: () => void;
  readonly onResume: () => Deed;
}) {
  const { dateOf } = useTimes();
  const { recalls, followUp } = o.row;
  const ended = followUp.recallsEnded;
  const [lost, setLost] = useState<string | null>(null);
  return (
    <Section title={followUpWords.recallsTitle}>
      {lost !== null && <Banner tone="attention" words={followUpWords.notSaved} advice={lost} />}
      {ended !== null && (
        <p>{followUpWords.endedOn({ on: dateOf(ended.onDay), reason: ended.reason })}</p>
      )}
      {recalls.ended === 'nothing-left' && <p>{followUpWords.endedBy['nothing-left']}</p>}
      <ul className="follow-recalls">
        {recalls.all.map((recall) => (
          <li key={recall.id} data-state={recall.state}>
            <StateMark shape={MARKS[recall.state]} />
            <span>
              {followUpWords.dueOn({ recall: recallName(recall), on: dateOf(recall.dueOn) })}
            </span>
            <span>{recallStanding(recall, dateOf)}</span>
          </li>
        ))}
      </ul>
      <div className="follow-deeds">
        {ended === null ? (
          <Button onPress={o.onEnd}>{followUpWords.endRecalls}</Button>
        ) : (
          <Button onPress={() => void o.onResume().then(setLost)}>{followUpWords.resume}</Button>
        )}
        {recalls.ended === null && <RecallsCalendar row={o.row} followUps={o.followUps} />}
      </div>
    </Section>
  );
}
