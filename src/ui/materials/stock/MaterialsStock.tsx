import { useState } from 'react';
import { Link } from 'wouter';
import { stockWords } from '../../../words/material-stock-words.ts';
import { EmptyState } from '../../parts/Banner.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { type StockRow, stockGroups } from '../../shared/materials-model.ts';
import { useTimes } from '../../shared/session-context.ts';

/** The stock list by class, each line leading to the lot's own page. */
export function MaterialsStock() {
  const materials = useStock((s) => s.materials);
  const isRead = useStock((s) => s.isRead);
  const times = useTimes();
  const [search, setSearch] = useState('');
  const [withGone, setWithGone] = useState(false);
  if (isRead && materials.length === 0) {
    return <EmptyState words={stockWords.none} advice={stockWords.noneTodo} />;
  }
  const groups = stockGroups(materials, { nowWallMs: Date.now(), times, search, withGone });
  const hasGone = materials.some((m) => m.goneOnWallMs !== undefined);
  return (
    <>
      <div className="stock-find">
        <TextField
          label={stockWords.search}
          hint={stockWords.searchHint}
          type="search"
          value={search}
          onChange={setSearch}
        />
        {hasGone && <Check label={stockWords.goneShow} checked={withGone} onChange={setWithGone} />}
      </div>
      {groups.length === 0 && <p className="lw-quiet">{stockWords.noneFound}</p>}
      {groups.map((group) => (
        <section key={group.materialClass} className="stock-group">
          <h2>{group.materialClass}</h2>
          <ul className="stock-rows">
            {group.rows.map((row) => (
              <Row key={row.material.id} row={row} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function Row({ row }: { readonly row: StockRow }) {
  const { material } = row;
  const isGone = material.goneOnWallMs !== undefined;
  return (
    <li className="stock-row" data-gone={isGone}>
      <Link href={`/materials/${material.id}`}>
        <span className="stock-label">{material.label}</span>
        <span>
          <span className="lw-quiet">{stockWords.lot} </span>
          {material.lot}
        </span>
        <span>
          <span className="lw-quiet">{stockWords.useBy} </span>
          {row.useBy}
        </span>
        <span>
          {material.openedOn !== undefined && (
            <span className="lw-quiet">{stockWords.opened} </span>
          )}
          {row.opened}
        </span>
        <span className="stock-state" data-mark={row.mark}>
          <StateMark shape={isGone ? 'struck' : row.mark} />
          <span>
            {isGone ? stockWords.gone : row.words}
            {!isGone &&
              row.more.map((words) => (
                <span key={words} className="stock-more">
                  {words}
                </span>
              ))}
          </span>
        </span>
      </Link>
    </li>
  );
}
