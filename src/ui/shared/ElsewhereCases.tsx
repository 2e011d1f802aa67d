import { useState } from 'react';
import { useLocation } from 'wouter';
import type { AppState } from '../../runtime/app-state.ts';
import { tabletRow } from '../../runtime/cases/pen-hold.ts';
import { openCaseWords } from '../../words/open-case-words.ts';
import { penWords } from '../../words/pen-words.ts';
import { todayWords } from '../../words/today-words.ts';
import { Button } from '../parts/Button.tsx';
import { heardWords, tabletName } from './pen-model.ts';
import { useApp, useSession } from './session-context.ts';
import { useWallNow } from './use-wall-now.ts';

type Summary = AppState['cases'][number];

/** Open cases that other tablets go on with: looked on at, or taken where they were given up. */
export function ElsewhereCases({ cases }: { readonly cases: readonly Summary[] }) {
  const nowMs = useWallNow();
  return (
    <section className="today-others" aria-label={penWords.elsewhere}>
      <h2>{penWords.elsewhere}</h2>
      <ul>
        {cases.map((summary) => (
          <Row key={summary.caseId} summary={summary} nowMs={nowMs} />
        ))}
      </ul>
    </section>
  );
}

/** Whether this tablet may take it with one tap. */
const isForThis = ({ pen }: Summary, tablet: string): boolean =>
  pen?.given !== undefined &&
  (pen.given.to === null || pen.given.to === tablet || pen.tablet === tablet);

/** "Runs on Chair 2 (heard 3 s ago)". */
function whereWords(summary: Summary, sharing: AppState['sharing'], nowMs: number): string {
  const { pen } = summary;
  const device = pen?.tablet ?? null;
  const name = tabletName(sharing, device, pen?.name);
  if (pen?.given !== undefined) {
    const { to, toName } = pen.given;
    return to === null
      ? penWords.givenAny(name)
      : penWords.givenOther({ name, to: tabletName(sharing, to, toName) });
  }
  const runs = tabletRow(sharing, device)?.runs?.caseId === summary.caseId;
  const where = runs ? penWords.runsOn(name) : penWords.openOn(name);
  return penWords.lineOf({ where, heard: heardWords(sharing, device, nowMs) });
}

function Row({ summary, nowMs }: { readonly summary: Summary; readonly nowMs: number }) {
  const session = useSession();
  const [path, navigate] = useLocation();
  const [isRefused, setIsRefused] = useState(false);
  const sharing = useApp((s) => s.sharing);
  const tablet = useApp((s) => s.settings.tablet);
  const { caseId, title, chartRef } = summary;
  const go = async (deed: () => Promise<{ readonly ok: boolean }>): Promise<void> => {
    const done = await deed();
    setIsRefused(!done.ok);
    if (done.ok) navigate('/chair', { replace: path === '/chair' });
  };
  return (
    <li>
      <p>
        <strong>{title}</strong>{' '}
        <span className="today-ref">
          {openCaseWords.caseAndMode({ chartRef, mode: whereWords(summary, sharing, nowMs) })}
        </span>
      </p>
      {isForThis(summary, tablet) && (
        <Button
          name={penWords.takeName(title)}
          onPress={() => void go(() => session.pens.take({ caseId }))}
        >
          {penWords.take}
        </Button>
      )}
      <Button
        rank="quiet"
        name={penWords.lookOnName(title)}
        onPress={() => void go(() => session.resumeCase(caseId))}
      >
        {penWords.lookOn}
      </Button>
      <Button
        rank="quiet"
        name={todayWords.recordName(title)}
        onPress={() => navigate(`/record/${caseId}`)}
      >
        {todayWords.toRecord}
      </Button>
      {isRefused && <p role="status">{penWords.refused}</p>}
    </li>
  );
}
