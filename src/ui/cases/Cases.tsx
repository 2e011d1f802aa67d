import { useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { type CasesListState, isExported, notExported } from '../../runtime/cases/cases-list.ts';
import {
  type CaseFacts,
  type CaseFilter,
  caseFinder,
  NO_FILTER,
} from '../../runtime/cases/cases-list-facts.ts';
import { caseListWords, caseStateWords, shownWords } from '../../words/case-list-words.ts';
import { chairWords } from '../../words/chair-words.ts';
import { storeOnlyWords } from '../../words/store-only-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { Banner, EmptyState } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { BrokenChains } from '../shared/BrokenChains.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useCasesList } from '../shared/materials-hooks.ts';
import { useApp, useTablet, useTimes } from '../shared/session-context.ts';
import { CasesDelete } from './CasesDelete.tsx';
import { CasesElsewhere } from './CasesElsewhere.tsx';
import { CasesErase } from './CasesErase.tsx';
import { CasesExport } from './CasesExport.tsx';
import { CasesFilter } from './CasesFilter.tsx';
import { CasesGone } from './CasesGone.tsx';
import './cases.css';

/** Rows drawn at once; more would only be scrolled past. */
const SHOWN_AT_ONCE = 100;

/** Every case on this tablet, found by what is in it. */
export function Cases() {
  const [, navigate] = useLocation();
  const list = useCasesList();
  const times = useTimes();
  const [filter, setFilter] = useState<CaseFilter>(NO_FILTER);
  const [deleting, setDeleting] = useState<CaseFacts | null>(null);
  const [shownMax, setShownMax] = useState(SHOWN_AT_ONCE);
  // The list itself is newest first.
  const found = useMemo(
    () => list.facts.filter(caseFinder(filter, times.isoDay)),
    [list.facts, filter, times],
  );
  const narrow = (next: CaseFilter): void => {
    setFilter(next);
    setShownMax(SHOWN_AT_ONCE);
  };
  return (
    <Frame
      place="record"
      title={caseListWords.title}
      lede={caseListWords.lede}
      actions={
        <>
          <Button onPress={() => navigate('/follow-up')}>{caseListWords.followUp}</Button>
          <Button onPress={() => navigate('/outcomes')}>{caseListWords.outcomes}</Button>
          <Button onPress={() => navigate('/drill')}>{caseListWords.drills}</Button>
          <Button onPress={() => navigate('/backup')}>{caseListWords.backup}</Button>
        </>
      }
    >
      <BrokenChains />
      <Standing list={list} />
      {list.isRead && list.facts.length === 0 ? (
        <EmptyState words={caseListWords.none} />
      ) : (
        <>
          <CasesFilter filter={filter} onChange={narrow} />
          <p className="cases-count" role="status">
            {list.isRead
              ? shownWords({ shown: found.length, of: list.facts.length })
              : caseListWords.reading({ ...list, shown: found.length })}
          </p>
          {found.length === 0 && list.isRead && <p>{caseListWords.noneFound}</p>}
          <ul className="cases">
            {found.slice(0, shownMax).map((facts) => (
              <Row key={facts.caseId} facts={facts} list={list} onDelete={setDeleting} />
            ))}
          </ul>
          {found.length > shownMax && (
            <Button onPress={() => setShownMax(shownMax + SHOWN_AT_ONCE)}>
              {caseListWords.showMore(found.length - shownMax)}
            </Button>
          )}
        </>
      )}
      <CasesGone tombstones={list.tombstones} />
      {list.tombstones.length > 0 && <CasesErase />}
      {deleting !== null && <CasesDelete facts={deleting} onClose={() => setDeleting(null)} />}
    </Frame>
  );
}

/** How many cases only this tablet has. */
function Standing({ list }: { readonly list: CasesListState }) {
  const { missing, hasClosed } = useMemo(
    () => ({
      missing: notExported(list).length,
      hasClosed: list.facts.some((f) => f.isClosed && f.mode === 'patient'),
    }),
    [list],
  );
  return (
    <>
      {list.isRead && missing > 0 && (
        <Banner
          tone="attention"
          words={caseListWords.notExported(missing)}
          advice={caseListWords.notExportedTodo}
          action={<CasesExport />}
        />
      )}
      {list.isRead && missing === 0 && hasClosed && (
        <Banner tone="plain" words={caseListWords.allExported} />
      )}
      {list.unreadable.length > 0 && (
        <Banner
          tone="broken"
          words={caseListWords.unreadable(list.unreadable.length)}
          advice={caseListWords.unreadableTodo}
        />
      )}
    </>
  );
}

function Row(o: {
  readonly facts: CaseFacts;
  readonly list: CasesListState;
  readonly onDelete: (facts: CaseFacts) => void;
}) {
  const { facts, list } = o;
  const notation = useApp((s) => s.settings.notation);
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const isReader = useApp((s) => s.standing !== 'writer');
  const isRunning = useApp((s) => s.running?.caseId === facts.caseId);
  const hasTwoEnds = useApp((s) => s.secondEnds.some((e) => e.caseId === facts.caseId));
  const isOut = isExported(list, facts);
  // What another tablet may still write on is not taken from it.
  const isShared = useApp((s) => s.sharing.standing === 'paired') && facts.mode === 'patient';
  const mayDelete = isOut && !facts.isStoreOnly && (facts.isClosed || !isShared);
  const mark = list.marks.get(facts.caseId);
  // Once every case was read, nothing is known only of one that does not hold together.
  const isDamaged = facts.breaches === null && !facts.isStoreOnly && list.done === list.of;
  const isKept = !isDamaged && (facts.breaches ?? 0) + (facts.perhaps ?? 0) === 0;
  return (
    <li>
      <Link href={`/record/${facts.caseId}`}>
        <span className="cases-title">{facts.title}</span>
        <span>
          {facts.chartRef}
          {facts.mode === 'rehearsal' && (
            <span className="lw-quiet"> {caseListWords.rehearsal}</span>
          )}
        </span>
        <span>{times.when(facts.openedWallMs, { nowMs: wallNowMs() })}</span>
        <span>
          {facts.teeth.map((t) => toothLabel(t, notation)).join(' ')}
          <span className="lw-quiet"> {chairWords.numberings[notation]}</span>
        </span>
        <span className="lw-kept" data-kept={isKept}>
          <StateMark shape={!facts.isClosed ? 'part' : isKept ? 'full' : 'spilled'} />
          {caseStateWords({ ...facts, isDamaged })}
          {hasTwoEnds && <span className="lw-quiet"> {caseListWords.twoEnds}</span>}
          {!facts.isClosed && <CasesElsewhere caseId={facts.caseId} />}
        </span>
        <span className="lw-quiet">
          {facts.isStoreOnly
            ? storeOnlyWords.mark
            : isOut && mark !== undefined
              ? caseListWords.exported(times.moment(mark.onWallMs))
              : caseListWords.toExport}
        </span>
      </Link>
      {mayDelete && (
        <Button
          rank="quiet"
          disabled={isReader || isRunning}
          name={caseListWords.deleteName(facts.title)}
          onPress={() => o.onDelete(facts)}
        >
          {caseListWords.delete}
        </Button>
      )}
    </li>
  );
}
