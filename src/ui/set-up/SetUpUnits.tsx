import { CONDITIONED, OPACITIES } from '../../protocol/vocabulary.ts';
import { conditionWords } from '../../words/condition-words.ts';
import { materialOptions, restorationOptions } from '../../words/material-words.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { SetUpUnitMore } from './SetUpUnitMore.tsx';
import type { DraftPartProps, UnitPartProps } from './set-up-drafts.ts';
import {
  allLikeFirst,
  changeUnit,
  type DraftUnit,
  moveUnit,
  seatingOrder,
  teethInOrder,
} from './set-up-units.ts';

const withOpen = <T extends string>(values: readonly T[], label: (value: T) => string) => [
  { value: '', label: setUpWords.notAskedYet },
  ...values.map((value) => ({ value, label: label(value) })),
];

function UnitFields(props: UnitPartProps) {
  const { draft, change, problemAt, unit, index } = props;
  const place = `case.units[${index}]`;
  const edit = (part: Partial<DraftUnit>) => change(changeUnit(draft, { index, change: part }));
  return (
    <div className="set-up-unit-fields">
      <SelectField
        label={setUpWords.restoration}
        value={unit.restoration}
        options={restorationOptions(unit.restoration)}
        onChange={(restoration) => edit({ restoration })}
        problem={problemAt(`${place}.restoration`)}
      />
      <SelectField
        label={setUpWords.material}
        value={unit.material}
        options={materialOptions(unit.material)}
        onChange={(material) => edit({ material })}
        problem={problemAt(`${place}.material`)}
      />
      <TextField
        label={setUpWords.thickness}
        unit="mm"
        width="short"
        inputMode="decimal"
        value={unit.thickness}
        onChange={(thickness) => edit({ thickness })}
        problem={problemAt(`${place}.thicknessMm`)}
      />
      {props.asks.has('opacity') && (
        <SelectField
          label={setUpWords.opacity}
          value={unit.opacity}
          options={withOpen(OPACITIES, (value) => conditionWords.opacities[value])}
          onChange={(opacity) => edit({ opacity })}
          problem={problemAt(`${place}.opacity`)}
        />
      )}
      {props.asks.has('conditioned') && (
        <SelectField
          label={setUpWords.conditioned}
          value={unit.conditioned}
          options={withOpen(CONDITIONED, (value) => conditionWords.conditioned[value])}
          onChange={(conditioned) => edit({ conditioned })}
          problem={problemAt(`${place}.conditioned`)}
        />
      )}
      <TextField
        label={setUpWords.shade}
        width="short"
        value={unit.shade}
        onChange={(shade) => edit({ shade })}
        problem={problemAt(`${place}.shade`)}
      />
    </div>
  );
}

function MoveButtons({ draft, change, index, unit, labelOf }: UnitPartProps) {
  const label = labelOf(unit);
  return (
    <div className="set-up-unit-order">
      <Button
        name={setUpWords.earlierName(label)}
        disabled={index === 0}
        onPress={() => change(moveUnit(draft, { index, by: -1 }))}
      >
        {setUpWords.earlier}
      </Button>
      <Button
        name={setUpWords.laterName(label)}
        disabled={index === draft.units.length - 1}
        onPress={() => change(moveUnit(draft, { index, by: 1 }))}
      >
        {setUpWords.later}
      </Button>
    </div>
  );
}

/** The units in the order in which they will be seated. */
export function SetUpUnits(props: DraftPartProps & Pick<UnitPartProps, 'asks'>) {
  const { draft, change } = props;
  const last = draft.units.length - 1;
  const labelOf = (unit: DraftUnit): string =>
    setUpWords.unitLabel(
      teethInOrder(unit).map((t) => {
        const label = toothLabel(t, draft.notation);
        return unit.pontics.includes(t) ? setUpWords.ponticLabel(label) : label;
      }),
    );
  if (draft.units.length === 0) {
    return (
      <Section title={setUpWords.units}>
        <p className="set-up-quiet">{setUpWords.noUnits}</p>
      </Section>
    );
  }
  return (
    <Section title={setUpWords.units} lede={setUpWords.unitsLede}>
      <ol className="set-up-units">
        {draft.units.map((unit, index) => {
          const label = labelOf(unit);
          const own = { ...props, unit, index, labelOf };
          return (
            <li key={unit.id} aria-label={setUpWords.unit(label)}>
              <p className="set-up-unit-label">
                <span className="set-up-unit-place">{index + 1}</span> {label}
              </p>
              <UnitFields {...own} />
              <MoveButtons {...own} />
              <SetUpUnitMore {...own} />
            </li>
          );
        })}
      </ol>
      <ButtonRow>
        {last > 0 && (
          <Button onPress={() => change(allLikeFirst(draft))}>{setUpWords.allLikeFirst}</Button>
        )}
        {draft.isOwnOrder && (
          <Button
            onPress={() =>
              change({ ...draft, units: seatingOrder(draft.units), isOwnOrder: false })
            }
          >
            {setUpWords.defaultOrder}
          </Button>
        )}
      </ButtonRow>
    </Section>
  );
}
