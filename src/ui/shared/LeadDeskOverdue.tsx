import { Link } from 'wouter';
import { overdueFigures } from '../../protocol/edit-types.ts';
import { overdueWords } from '../../words/overdue-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { Banner } from '../parts/Banner.tsx';
import { useApp, useTablet, useTimes } from './session-context.ts';

/** Says on every page away from the chair that confirmed numbers are due for review. */
export function LeadDeskOverdue() {
  const tablet = useTablet();
  const entries = useApp((s) => s.protocols);
  const today = useTimes().isoDay(tablet.wallNowMs());
  return entries.map(({ protocol: stored, approval }) => {
    const protocol = toldProtocol(stored);
    const overdue = approval === null ? [] : overdueFigures(protocol, today);
    if (overdue.length === 0) return null;
    const titles = [...new Set(overdue.map((figure) => figure.title))];
    return (
      <Banner
        key={protocol.id}
        tone="attention"
        words={overdueWords.overdue({ count: overdue.length, protocol: protocol.title })}
        advice={overdueWords.overdueMore(titles)}
        action={
          <Link className="lw-way" href="/lead">
            {overdueWords.open}
          </Link>
        }
      />
    );
  });
}
