import { withField } from '../../../protocol/schema-fields.ts';
import type {
  Action,
  DwellTimes,
  DwellVariant,
  Figure,
  Protocol,
} from '../../../protocol/types.ts';
import { materialOptions, materialWord } from '../../../words/material-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { EntryFields } from './EntryFields.tsx';
import type { FormProblems } from './editor-form-problems.ts';
import { stepKinds } from './editor-step-names.ts';
import { blankFigure } from './new-figures.ts';
import { WhereFields } from './WhereFields.tsx';
import { firstCondition } from './where-model.ts';

type Dwell = Extract<Action, { kind: 'dwell' }>;

interface TimesProps {
  readonly protocol: Protocol;
  readonly action: Dwell;
  readonly problems: FormProblems;
  readonly onChange: (action: Dwell) => void;
}

/** Times that hold for some subjects only: of a class of material, or of which more is known. */
export function StepTimes(props: TimesProps) {
  return (
    <>
      <ByMaterial {...props} />
      <Variants {...props} />
      <p className="lw-aside">{stepFormWords.numbersElsewhere}</p>
    </>
  );
}

/** Times of their own begin empty: those of the step were read for something else. */
const begun = (): { readonly targetMs: Figure } => ({ targetMs: blankFigure() });

function Class(o: {
  readonly times: DwellTimes;
  readonly problem: string | undefined;
  readonly onChange: (times: DwellTimes) => void;
}) {
  return (
    <EntryFields
      part="times"
      keys={['rangeClass']}
      entry={o.times}
      set={(key, value) => o.onChange(withField(o.times, key, value))}
      problemAt={() => o.problem}
      choices={{ rangeClass: stepKinds(o.times.rangeClass) }}
    />
  );
}

function ByMaterial({ protocol, action, problems, onChange }: TimesProps) {
  const { byMaterial = {} } = action;
  const set = (next: Readonly<Record<string, DwellTimes>>): void =>
    onChange(withField(action, 'byMaterial', Object.keys(next).length === 0 ? undefined : next));
  const known = [
    ...materialOptions(''),
    ...(protocol.materials ?? []).map((id) => ({ value: id, label: materialWord(id) })),
  ].filter(
    ({ value }, i, all) =>
      !Object.hasOwn(byMaterial, value) && all.findIndex((each) => each.value === value) === i,
  );
  return (
    <fieldset className="editor-waits">
      <legend>{stepFormWords.byMaterial}</legend>
      <p className="lw-aside">{stepFormWords.byMaterialLede}</p>
      {Object.entries(byMaterial).map(([material, times]) => (
        <fieldset className="editor-one" key={material}>
          <legend>{stepFormWords.timesOf(materialWord(material))}</legend>
          <Class
            times={times}
            problem={problems.at(`action.byMaterial.${material}.rangeClass`)}
            onChange={(next) => set({ ...byMaterial, [material]: next })}
          />
          <Button
            rank="quiet"
            onPress={() => {
              const left = Object.entries(byMaterial).filter(([each]) => each !== material);
              set(Object.fromEntries(left));
            }}
          >
            {stepFormWords.removeTimes(materialWord(material))}
          </Button>
        </fieldset>
      ))}
      <SelectField
        label={stepFormWords.addMaterial}
        value=""
        options={[{ value: '', label: stepFormWords.chooseMaterial }, ...known]}
        onChange={(id) => id !== '' && set({ ...byMaterial, [id]: begun() })}
      />
    </fieldset>
  );
}

function Variants({ protocol, action, problems, onChange }: TimesProps) {
  const { variants = [] } = action;
  const set = (next: readonly DwellVariant[]): void =>
    onChange(withField(action, 'variants', next.length === 0 ? undefined : next));
  const put = (index: number, times: DwellVariant): void =>
    set(variants.map((old, i) => (i === index ? times : old)));
  return (
    <fieldset className="editor-waits">
      <legend>{stepFormWords.variants}</legend>
      <p className="lw-aside">{stepFormWords.variantsLede}</p>
      {variants.map((times, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: times have no name, and the list controls the fields.
        <div className="editor-one" key={index}>
          <WhereFields
            legend={stepFormWords.variantWhere(index + 1)}
            protocol={protocol}
            where={times.where}
            problems={problems}
            place={`action.variants[${index}].where`}
            onChange={(where) => put(index, { ...times, where: where ?? [] })}
          />
          <Class
            times={times}
            problem={problems.at(`action.variants[${index}].rangeClass`)}
            onChange={(next) => put(index, { ...next, where: times.where })}
          />
          <Button rank="quiet" onPress={() => set(variants.filter((_, i) => i !== index))}>
            {stepFormWords.removeTimes(stepFormWords.variant(index + 1))}
          </Button>
        </div>
      ))}
      <Button onPress={() => set([...variants, { where: [firstCondition()], ...begun() }])}>
        {stepFormWords.addVariant}
      </Button>
    </fieldset>
  );
}
