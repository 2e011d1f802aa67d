import { useEffect, useState } from 'react';
import { BY_MS } from '../../../runtime/stock/stock.ts';
import { stockHistoryWords } from '../../../words/stock-history-words.ts';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useClinicPeople } from '../../shared/PeopleChoices.tsx';
import { useApp, useSession } from '../../shared/session-context.ts';

const OTHER = '\u0000other';

/** Asks who does what is pressed here. Whoever is not named is not made up. */
export function StockWho() {
  const { stock } = useSession();
  const by = useStock((s) => s.by);
  const known = useStock((s) => s.people);
  const materials = useStock((s) => s.materials);
  const prepared = useApp((s) => s.prepared);
  const [isOther, setOther] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what was written is the reason to wait anew.
  useEffect(() => {
    if (by === '') return undefined;
    const timer = setTimeout(() => stock.setBy(''), BY_MS);
    return () => clearTimeout(timer);
  }, [stock, by, materials]);
  const listed = useClinicPeople().map(({ name }) => name);
  const people = new Set([
    ...listed,
    ...known,
    ...prepared.flatMap((c) => c.people.map((p) => p.label)),
  ]);
  const isTyped = isOther || (by !== '' && !people.has(by));
  return (
    <div className="stock-who">
      <SelectField
        label={stockHistoryWords.who}
        hint={stockHistoryWords.whoHint}
        value={isTyped ? OTHER : by}
        options={[
          { value: '', label: stockHistoryWords.whoNobody },
          ...[...people].toSorted().map((value) => ({ value, label: value })),
          { value: OTHER, label: stockHistoryWords.whoOther },
        ]}
        onChange={(value) => {
          setOther(value === OTHER);
          stock.setBy(value === OTHER ? '' : value);
        }}
      />
      {isTyped && <Name by={by} onName={(name) => stock.setBy(name)} />}
    </div>
  );
}

/** Typed as it is, and kept without the blanks around it. */
function Name(o: { readonly by: string; readonly onName: (name: string) => void }) {
  const [typed, setTyped] = useState(o.by);
  return (
    <TextField
      label={stockHistoryWords.whoName}
      value={typed}
      onChange={(text) => {
        setTyped(text);
        o.onName(text);
      }}
    />
  );
}
