import { Link } from 'wouter';
import type { AppState } from '../../runtime/app-state.ts';
import { Section } from '../parts/Page.tsx';
import { whenWords } from '../words/date-words.ts';
import { todayWords } from '../words/today-words.ts';

type Summary = AppState['cases'][number];

/** Closed cases, newest first; each line leads to its record. */
export function FinishedCases(props: {
  readonly finished: readonly Summary[];
  readonly nowMs: number;
}) {
  return (
    <Section title={todayWords.finished}>
      {props.finished.length === 0 ? (
        <p className="today-ref">{todayWords.noneFinished}</p>
      ) : (
        <ul className="today-finished">
          {props.finished.map((c) => (
            <li key={c.caseId}>
              <Link href={`/record/${c.caseId}`}>
                <span className="today-finished-title">{c.title}</span>
                <span>{c.chartRef}</span>
                <span>{c.mode === 'rehearsal' ? todayWords.rehearsal : todayWords.patient}</span>
                <span>{whenWords(c.lastStamp.wallMs, props)}</span>
              </Link>
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}
