import { Link } from 'wouter';
import type { Protocol } from '../../protocol/types.ts';
import { chairMaterialWords } from '../../words/material-chair-words.ts';
import { warningWords } from '../../words/material-warning-words.ts';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { type ShelfLine, shelfFor } from './materials-chair-model.ts';
import { useStock } from './materials-hooks.ts';
import './materials.css';
import { useTimes } from './session-context.ts';

/** While a case is prepared: what its protocol asks for, and how the shelf stands. */
export function MaterialsShelf({ protocol }: { readonly protocol: Pick<Protocol, 'slots'> }) {
  const materials = useStock((s) => s.materials);
  const times = useTimes();
  if (materials.length === 0 || protocol.slots.length === 0) return null;
  return (
    <Section title={chairMaterialWords.shelf} lede={chairMaterialWords.shelfLede}>
      <ul className="shelf">
        {shelfFor(protocol, materials, Date.now(), times).map((line) => (
          <Line key={line.id} line={line} />
        ))}
      </ul>
      <p>
        <Link href="/materials">{chairMaterialWords.shelfTo}</Link>
      </p>
    </Section>
  );
}

function Line({ line }: { readonly line: ShelfLine }) {
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
          {warnings.map((w) => (
            <span key={w.code} className="stock-more">
              {warningWords(w)}
            </span>
          ))}
        </span>
      </span>
    </li>
  );
}
