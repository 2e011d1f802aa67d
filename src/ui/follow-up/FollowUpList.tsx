import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { FollowUpRow, FollowUpsState } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords, recallName, recallStanding } from '../../words/follow-up-words.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import { FollowUpExport } from '../shared/FollowUpExport.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useTimes } from '../shared/session-context.ts';
import { useFollowUps } from '../shared/use-follow-ups.ts';
import { NotRead } from './FollowUpFrame.tsx';
import { FollowUpInterval } from './FollowUpInterval.tsx';
import { GROUPS, type GroupName, recallGroups } from './recall-groups.ts';
import './follow-up.css';

/** Rows drawn at once of each group; more would only be scrolled past. */
const SHOWN_AT_ONCE = 30;

/** Every recall of the clinic. */
export function FollowUpList() {
  const [, navigate] = useLocation();
  const { phase, followUps, state } = useFollowUps();
  const [sought, setSought] = useState('');
  const rows = recallGroups(state.list, sought);
  const found = GROUPS.reduce((sum, name) => sum + rows[name].length, 0);
  return (
    <Frame
      place="record"
      title={followUpWords.title}
      lede={followUpWords.lede}
      actions={
        <Button onPress={() => navigate('/follow-up/before')}>{followUpWords.addEarlier}</Button>
      }
    >
      {followUps === null ? (
        <NotRead phase={phase} />
      ) : (
        <>
          <Standing state={state} />
          <div className="follow-narrow">
            <TextField
              label={followUpWords.search}
              hint={followUpWords.searchHint}
              type="search"
              value={sought}
              onChange={setSought}
            />
            <FollowUpInterval onKept={() => void followUps.open()} />
          </div>
          {state.list.length === 0 && (
            <EmptyState words={followUpWords.none} advice={followUpWords.noneTodo} />
          )}
          {state.list.length > 0 && found === 0 && <p role="status">{followUpWords.noneFound}</p>}
          {found > 0 && rows.overdue.length + rows.due.length === 0 && (
            <p className="lw-quiet">{followUpWords.noneWaits}</p>
          )}
          {GROUPS.filter((name) => rows[name].length > 0).map((name) => (
            <Group key={`${name} ${sought}`} name={name} rows={rows[name]} />
          ))}
          {state.list.length > 0 && <FollowUpExport />}
        </>
      )}
    </Frame>
  );
}

/** What is not followed yet, or cannot be read. */
function Standing({ state }: { readonly state: FollowUpsState }) {
  const { takingIn, notTakenIn, unread } = state;
  return (
    <>
      {takingIn !== null && <p role="status">{followUpWords.takingIn(takingIn)}</p>}
      {notTakenIn.length > 0 && (
        <Banner tone="attention" words={followUpWords.notTakenIn(notTakenIn.length)} />
      )}
      {unread > 0 && <Banner tone="attention" words={followUpWords.unread(unread)} />}
    </>
  );
}

function Group({
  name,
  rows,
}: {
  readonly name: GroupName;
  readonly rows: readonly FollowUpRow[];
}) {
  const [shownMax, setShownMax] = useState(SHOWN_AT_ONCE);
  const title = followUpWords.groupTitle({
    name: followUpWords.groups[name],
    count: rows.length,
  });
  const rest = rows.length - shownMax;
  return (
    <Section title={title}>
      <ul className="follow-list">
        {rows.slice(0, shownMax).map((row) => (
          <Row key={row.caseId} row={row} name={name} />
        ))}
      </ul>
      {rest > 0 && (
        <div>
          <Button onPress={() => setShownMax(shownMax + SHOWN_AT_ONCE)}>
            {followUpWords.showMore(Math.min(rest, SHOWN_AT_ONCE))}
          </Button>
        </div>
      )}
    </Section>
  );
}

const MARKS: Readonly<Record<GroupName, MarkShape>> = {
  overdue: 'spilled',
  due: 'target',
  ahead: 'empty',
  ended: 'struck',
};

function Row({ row, name }: { readonly row: FollowUpRow; readonly name: GroupName }) {
  const [, navigate] = useLocation();
  const { dateOf } = useTimes();
  const { caseId, patient, title, recalls, units, lastSeen } = row;
  const recall = recalls.due ?? recalls.next;
  const way = `/follow-up/${encodeURIComponent(caseId)}`;
  const ref = { ref: patient, title };
  const { ended } = recalls;
  return (
    <li>
      <Link href={way} aria-label={followUpWords.caseName(ref)}>
        <span>
          <strong>{patient}</strong>
          <span className="follow-title">{title}</span>
        </span>
        <span>
          {followUpWords.units(units.length)}
          <span className="lw-aside">
            {lastSeen === null ? followUpWords.neverSeen : followUpWords.lastSeen(dateOf(lastSeen))}
          </span>
        </span>
        <span className="follow-standing" data-late={name === 'overdue'}>
          <StateMark shape={MARKS[name]} />
          <span>
            {ended !== null && followUpWords.endedBy[ended]}
            {ended === null && recall !== null && (
              <>
                {recallStanding(recall, dateOf)}
                <span className="lw-aside">
                  {followUpWords.dueOn({ recall: recallName(recall), on: dateOf(recall.dueOn) })}
                </span>
              </>
            )}
            {row.differing.length > 0 && <strong>{followUpWords.differs}</strong>}
            {row.contradictions.length > 0 && <strong>{followUpWords.contradicts}</strong>}
          </span>
        </span>
      </Link>
      {name !== 'ended' && (
        <Button name={followUpWords.visitName(ref)} onPress={() => navigate(`${way}/visit`)}>
          {followUpWords.visitDo}
        </Button>
      )}
    </li>
  );
}
