import { rowsFor } from '../../plan/plan-tables.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { SelectField, TextField } from '../parts/Field.tsx';
import { usePlanner } from '../shared/session-context.ts';
import type { UnitPartProps } from './set-up-drafts.ts';
import {
  changeUnit,
  type DraftPasses,
  PASSES_UNKNOWN,
  passesOfRow,
  percentText,
  rowOf,
} from './set-up-units.ts';

const OTHER = 'as-in-the-file';

/** How much of the light passes this unit: not known, measured here, or a published row. */
export function SetUpPasses(props: UnitPartProps & { readonly place: string }) {
  const { draft, change, unit, index, problemAt, place } = props;
  const { passes } = unit;
  const ceramics = usePlanner()?.tables?.ceramics ?? [];
  const rows = rowsFor(ceramics, unit.material);
  const row = rowOf(ceramics, unit);
  const set = (next: DraftPasses) => change(changeUnit(draft, { index, change: { passes: next } }));
  const choose = (value: string): void => {
    const chosen = rows.find((each) => each.id === value);
    if (chosen) set(passesOfRow(chosen));
    else if (value === 'unknown') set(PASSES_UNKNOWN);
    else if (value === 'measured') {
      set({ ...PASSES_UNKNOWN, kind: 'measured', at: unit.thickness });
    }
  };
  // A published share that is on no list here came with the file, and stays.
  const value = passes.kind === 'published' ? (row?.id ?? OTHER) : passes.kind;
  const other = value === OTHER ? [{ value: OTHER, label: setUpWords.passesOther(passes) }] : [];
  return (
    <>
      <SelectField
        label={setUpWords.passes}
        hint={passes.kind === 'published' ? passes.basis : setUpWords.passesHint}
        value={value}
        options={[
          { value: 'unknown', label: setUpWords.passesUnknown },
          { value: 'measured', label: setUpWords.passesMeasured },
          ...other,
          ...rows.map((each) => ({
            value: each.id,
            label: setUpWords.passesRow({
              material: each.material,
              shade: each.shade,
              at: String(each.thicknessMm),
              share: percentText(each.transmittance),
            }),
          })),
        ]}
        onChange={choose}
      />
      {passes.kind === 'measured' && (
        <div className="set-up-passes">
          <TextField
            label={setUpWords.passesShare}
            unit="%"
            width="short"
            inputMode="decimal"
            value={passes.share}
            onChange={(share) => set({ ...passes, share })}
            problem={problemAt(`${place}.share`)}
          />
          <TextField
            label={setUpWords.passesAt}
            unit="mm"
            width="short"
            inputMode="decimal"
            value={passes.at}
            onChange={(at) => set({ ...passes, at })}
            problem={problemAt(`${place}.atThicknessMm`)}
          />
          <TextField
            label={setUpWords.passesBasis}
            hint={setUpWords.passesBasisHint}
            value={passes.basis}
            onChange={(basis) => set({ ...passes, basis })}
            problem={problemAt(`${place}.basis`)}
          />
        </div>
      )}
    </>
  );
}
