import { useState } from 'react';
import type { LightReading } from '../../../runtime/stock/stock-types.ts';
import { lightWords } from '../../../words/light-log-words.ts';
import { stockProblemWords, stockWords } from '../../../words/material-stock-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useApp, useSession, useTablet, useTimes } from '../../shared/session-context.ts';
import { type LightReadingFields, readingOf, readingProblems } from './light-log-model.ts';

/** One reading, typed. Light and instrument are those of the last time. */
export function LightLogForm(o: {
  readonly readings: readonly LightReading[];
  readonly onClose: () => void;
}) {
  const { stock } = useSession();
  const tablet = useTablet();
  const times = useTimes();
  const prepared = useApp((s) => s.prepared);
  const last = o.readings.toSorted((a, b) => a.onWallMs - b.onWallMs).at(-1);
  const [draft, setDraft] = useState<LightReadingFields>({
    light: last?.light ?? prepared[0]?.light.label ?? '',
    instrument: last?.instrument ?? '',
    value: '',
    on: times.isoDay(Date.now()),
    isBaseline: last === undefined,
    note: '',
  });
  const [isTried, setTried] = useState(false);
  const [lost, setLost] = useState<string | null>(null);
  const found = readingProblems(draft, Date.now(), times);
  const problems = isTried ? found : {};
  const change = (part: Partial<LightReadingFields>) => setDraft({ ...draft, ...part });
  const save = async (): Promise<void> => {
    setTried(true);
    if (Object.keys(found).length > 0) return;
    const reading = readingOf(draft, { id: tablet.newId(), nowWallMs: Date.now(), times });
    const kept = await stock.saveReading(reading);
    if (kept.ok) o.onClose();
    else setLost(stockProblemWords(kept.error));
  };
  return (
    <Sheet
      open
      width="wide"
      title={lightWords.add}
      onClose={o.onClose}
      foot={
        <Button rank="main" onPress={() => void save()}>
          {lightWords.save}
        </Button>
      }
    >
      {lost !== null && <Banner tone="attention" words={stockWords.notSaved} advice={lost} />}
      <div className="stock-form">
        <TextField
          label={lightWords.light}
          hint={lightWords.lightHint}
          problem={problems.light}
          value={draft.light}
          onChange={(light) => change({ light })}
        />
        <TextField
          label={lightWords.instrument}
          hint={lightWords.instrumentHint}
          problem={problems.instrument}
          value={draft.instrument}
          onChange={(instrument) => change({ instrument })}
        />
        <TextField
          label={lightWords.value}
          unit={lightWords.unit}
          width="short"
          inputMode="decimal"
          problem={problems.value}
          value={draft.value}
          onChange={(value) => change({ value })}
        />
        <TextField
          label={lightWords.on}
          type="date"
          width="short"
          problem={problems.on}
          value={draft.on}
          onChange={(on) => change({ on })}
        />
        <Check
          label={lightWords.baseline}
          note={lightWords.baselineNote}
          checked={draft.isBaseline}
          onChange={(isBaseline) => change({ isBaseline })}
        />
        <TextField
          label={lightWords.note}
          value={draft.note}
          onChange={(note) => change({ note })}
        />
      </div>
    </Sheet>
  );
}
