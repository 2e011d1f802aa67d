import { Link } from 'wouter';
import type { Protocol } from '../../protocol/types.ts';
import { lastDayOf } from '../../runtime/stock/last-day.ts';
import { materialWarnings } from '../../runtime/stock/stock-warnings.ts';
import { instantOf, type Times } from '../../words/date-words.ts';
import { chairMaterialWords } from '../../words/material-chair-words.ts';
import { warningWords } from '../../words/material-warning-words.ts';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { type ShelfLine, shelfFor } from './materials-chair-model.ts';
import { useStock } from './materials-hooks.ts';
import './materials.css';
import { useTimes } from './session-context.ts';

/** While a case is prepared: what its protocol asks for, and how the shelf stands. */
export function MaterialsShelf(o: {
  readonly protocol: Pick<Protocol, 'slots'>;
  /** ISO 8601; days of use are judged as of then, where it lies ahead. */
  readonly scheduledFor?: string | undefined;
}) {
  const { protocol } = o;
  const materials = useStock((s) => s.materials);
  const times = useTimes();
  if (materials.length === 0 || protocol.slots.length === 0) return null;
  const nowMs = Date.now();
  const atMs = Math.max(nowMs, instantOf(o.scheduledFor) ?? nowMs);
  const isToday = times.isoDay(atMs) === times.isoDay(nowMs);
  // How cold something is today says nothing of another day.
  const lines = shelfFor(protocol, materials, atMs, times).map((line) =>
    isToday ? line : { ...line, warnings: line.warnings.filter((w) => w.code !== 'still-cold') },
  );
  return (
    <Section title={chairMaterialWords.shelf} lede={chairMaterialWords.shelfLede}>
      <ul className="shelf">
        {lines.map((line) => (
          <Line key={line.id} line={line} nowMs={nowMs} />
        ))}
      </ul>
      <p>
        <Link className="lw-way" href="/materials">
          {chairMaterialWords.shelfTo}
        </Link>
      </p>
    </Section>
  );
}

/** What speaks against it: as of now where it does already, else by its last day. */
function againstWords(
  { best, warnings }: ShelfLine,
  { nowMs, times }: { readonly nowMs: number; readonly times: Times },
): readonly string[] {
  if (best === null) return [];
  const now = materialWarnings(best, nowMs, times);
  const last = lastDayOf(best);
  const told = warnings.map(({ code }) => {
    const already = now.find((warning) => warning.code === code);
    if (already !== undefined) return warningWords(already);
    return last === null ? '' : chairMaterialWords.lastDayBefore(times.dateOf(last.day));
  });
  return [...new Set(told)].filter((words) => words !== '');
}

function Line({ line, nowMs }: { readonly line: ShelfLine; readonly nowMs: number }) {
  const times = useTimes();
  const { best, warnings } = line;
  const isGrave = warnings.some((w) => w.code !== 'still-cold');
  const mark = best === null ? 'empty' : isGrave ? 'broken' : warnings.length > 0 ? 'part' : 'full';
  return (
    <li>
      <span>
        <strong>{line.isOptional ? chairMaterialWords.optional(line.label) : line.label}</strong>
      </span>
      <span className="stock-state" data-mark={isGrave ? 'broken' : 'full'}>
        <StateMark shape={mark} />
        <span>
          {best === null ? chairMaterialWords.shelfNone : chairMaterialWords.named(best)}
          {againstWords(line, { nowMs, times }).map((words) => (
            <span key={words} className="stock-more">
              {words}
            </span>
          ))}
        </span>
      </span>
    </li>
  );
}
