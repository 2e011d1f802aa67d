import { setUpWords } from '../../words/set-up-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { SetUpPasses } from './SetUpPasses.tsx';
import type { UnitPartProps } from './set-up-drafts.ts';
import { joinable, joinUnits, partUnit, setPontic, teethInOrder } from './set-up-units.ts';

const ALONE = '';

/** Which teeth belong to one unit, and which of them it replaces. */
function Bridge({ draft, change, unit, index, labelOf }: UnitPartProps) {
  const others = joinable(draft, index);
  const teeth = teethInOrder(unit);
  const kinds = [
    { value: 'bonded', label: setUpWords.bonded },
    { value: 'pontic', label: setUpWords.pontic },
  ] as const;
  return (
    <>
      {others.length > 0 && (
        <SelectField
          label={setUpWords.joinWith}
          hint={setUpWords.joinWithHint}
          value={ALONE}
          options={[
            { value: ALONE, label: setUpWords.joinNothing },
            ...others.map((u) => ({ value: u.id, label: labelOf(u) })),
          ]}
          onChange={(other) => change(joinUnits(draft, { index, other }))}
        />
      )}
      {teeth.length > 1 && (
        <div className="set-up-bridge">
          {teeth.map((tooth) => (
            <Segmented
              key={tooth}
              label={setUpWords.toothOfBridge(toothLabel(tooth, draft.notation))}
              value={unit.pontics.includes(tooth) ? 'pontic' : 'bonded'}
              options={kinds}
              onChange={(kind) =>
                change(setPontic(draft, { index, tooth, isPontic: kind === 'pontic' }))
              }
            />
          ))}
          <Button
            name={setUpWords.splitName(labelOf(unit))}
            onPress={() => change(partUnit(draft, index))}
          >
            {setUpWords.split}
          </Button>
        </div>
      )}
    </>
  );
}

/** What few units need: how thick, how much light passes, a bridge. Folded away until wanted. */
export function SetUpUnitMore(props: UnitPartProps) {
  const { unit, index, problemAt, labelOf } = props;
  const place = `case.units[${index}].transmittance`;
  const isFaulty = ['share', 'atThicknessMm', 'basis'].some(
    (key) => problemAt(`${place}.${key}`) !== undefined,
  );
  const label = labelOf(unit);
  return (
    <div className="set-up-unit-more">
      <Disclosure
        summary={setUpWords.more[unit.passes.kind](label)}
        open={isFaulty ? true : undefined}
      >
        <SetUpPasses {...props} place={place} />
        <Bridge {...props} />
      </Disclosure>
    </div>
  );
}
