import { Link } from 'wouter';
import { chairWords } from '../../words/chair-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { EmergencyButton } from '../shared/EmergencyButton.tsx';
import { OpenCases } from '../shared/OpenCases.tsx';
import { SharingSpot } from '../shared/SharingSpot.tsx';
import { useApp, useTablet } from '../shared/session-context.ts';
import { openCases } from '../shared/today-model.ts';

/** The chair of a window that runs no case, as after it was loaded anew: the way back stands first. */
export function ChairEmpty() {
  const tablet = useTablet();
  const open = openCases(useApp((s) => s.cases));
  const isPatient = open.some(({ mode }) => mode === 'patient');
  const toToday = (
    <Link className="lw-way" href="/">
      {chairWords.toToday}
    </Link>
  );
  return (
    <main className="chair-empty">
      <EmergencyButton />
      <SharingSpot />
      {open.length > 0 ? (
        <>
          <h1>{isPatient ? chairWords.unfinished : chairWords.unfinishedRehearsal}</h1>
          <OpenCases isAtChair open={open} nowMs={tablet.wallNowMs()} />
          {toToday}
        </>
      ) : (
        <EmptyState words={chairWords.noCase} advice={chairWords.noCaseAdvice} action={toToday} />
      )}
    </main>
  );
}
