import { useState } from 'react';
import { anaesthesiaTable } from '../../../plan/anaesthesia-table.ts';
import type { CaseFile } from '../../../protocol/case-types.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { agentWords, besideWords, techniqueWords } from '../../../words/beside-words.ts';
import { toothLabel } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { useTablet } from '../../shared/session-context.ts';

const ML_MAX = 100;

/** The teeth that the case works on; what a bridge replaces needs no injection. */
const teethOf = ({ units }: CaseFile): readonly string[] =>
  units.flatMap(({ teeth, pontics = [] }) => teeth.filter((tooth) => !pontics.includes(tooth)));

/** As it was given last, else as it was prepared, else what the table names first for this jaw. */
function usual(running: RunningCase) {
  const { spec } = namingOf(running);
  const last = running.log.state.injections.at(-1);
  const { agents } = anaesthesiaTable();
  const isLower = /^[34]/.test(spec.units[0]?.teeth[0] ?? '');
  return {
    agent: last?.agent ?? spec.anaesthesia?.agent ?? agents[0]?.id ?? '',
    technique:
      last?.technique ??
      spec.anaesthesia?.technique ??
      (isLower ? 'lower-block' : 'upper-infiltration'),
    teeth: last?.teeth ?? teethOf(spec),
  };
}

/** Null while it is no number; undefined where nothing is noted. */
function mlOf(typed: string): number | null | undefined {
  if (typed.trim() === '') return undefined;
  const ml = Number(typed.replace(',', '.'));
  return ml >= 0 && ml <= ML_MAX ? ml : null;
}

/** Notes an injection: as a rule one touch, since everything stands as it was the last time. */
export function ChairInjection(o: { readonly running: RunningCase; readonly onClose: () => void }) {
  const tablet = useTablet();
  const { spec } = namingOf(o.running);
  const { agents, techniques } = anaesthesiaTable();
  const [given, setGiven] = useState(() => usual(o.running));
  const [typed, setTyped] = useState('');
  const ml = mlOf(typed);
  const offered = [...new Set([...teethOf(spec), ...given.teeth])];
  const toggle = (tooth: string): void => {
    const isOn = given.teeth.includes(tooth);
    const teeth = offered.filter((t) => (t === tooth ? !isOn : given.teeth.includes(t)));
    setGiven({ ...given, teeth });
  };
  const give = (): void => {
    if (ml === null) return;
    const noted = { ...given, ...(ml === undefined ? {} : { ml }) };
    if (!tablet.door.do({ do: 'give-anaesthesia', given: noted })) o.onClose();
  };
  return (
    <Sheet open title={besideWords.title} onClose={o.onClose} width="wide">
      <p className="chair-proposal">{besideWords.shadeFirst}</p>
      <div className="chair-sheet-fields">
        <SelectField
          label={besideWords.agent}
          value={given.agent}
          options={agents.map(({ id }) => ({ value: id, label: agentWords(id) }))}
          onChange={(agent) => setGiven({ ...given, agent })}
        />
        <SelectField
          label={besideWords.technique}
          value={given.technique}
          options={techniques.map((id) => ({ value: id, label: techniqueWords(id) }))}
          onChange={(technique) => setGiven({ ...given, technique })}
        />
        <TextField
          label={besideWords.ml}
          inputMode="decimal"
          width="short"
          value={typed}
          problem={ml === null ? besideWords.mlBad : undefined}
          onChange={setTyped}
        />
      </div>
      <fieldset className="chair-teeth">
        <legend>{besideWords.teeth}</legend>
        {offered.map((tooth) => (
          <Button
            key={tooth}
            size="chair"
            on={given.teeth.includes(tooth)}
            onPress={() => toggle(tooth)}
          >
            {toothLabel(tooth, spec.notation)}
          </Button>
        ))}
      </fieldset>
      <div>
        <Button
          size="chair"
          rank="main"
          disabled={given.teeth.length === 0 || ml === null || o.running.isViewOnly}
          onPress={give}
        >
          {besideWords.give}
        </Button>
      </div>
      <p>{besideWords.noDose}</p>
      <p>{besideWords.govern}</p>
    </Sheet>
  );
}
