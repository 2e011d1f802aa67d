import type { BondedUnit } from '../../outcomes/follow-up-types.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { recallVisitWords, unitLabel } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { useApp, useTablet } from '../shared/session-context.ts';
import {
  changeUnit,
  type GradeDraft,
  SCALES,
  type ScaleId,
  type VisitDraft,
} from './visit-draft.ts';

const FDI_GRADES = ['1', '2', '3', '4', '5'] as const;

const gradesOf = (scale: ScaleId): readonly string[] =>
  scale === 'usphs' ? recallVisitWords.usphs : FDI_GRADES;

const isScale = (value: string): value is ScaleId => Object.hasOwn(SCALES, value);

/** Grades of a named scale, for those who want them. They are kept as entered and change nothing else. */
export function RecallGrades(o: {
  readonly row: FollowUpRow;
  readonly draft: VisitDraft;
  readonly onChange: (next: VisitDraft) => void;
  readonly problems: ReadonlyMap<string, string>;
}) {
  const { row, draft, onChange, problems } = o;
  const looked = draft.units.filter(({ isLeftOut }) => !isLeftOut);
  if (looked.length === 0) return null;
  const isUsed = looked.some(({ grades }) => grades.length > 0);
  return (
    <Disclosure summary={recallVisitWords.grades} open={isUsed ? true : undefined}>
      <p className="lw-field-hint">{recallVisitWords.gradesHint}</p>
      <ul className="recall-grades">
        {row.units.map((unit) => {
          const own = looked.find((each) => each.unit === unit.unit);
          if (own === undefined) return null;
          return (
            <OfUnit
              key={unit.unit}
              unit={unit}
              grades={own.grades}
              onChange={(grades) =>
                onChange(changeUnit(draft, { unit: unit.unit, change: { grades } }))
              }
              problems={problems}
            />
          );
        })}
      </ul>
    </Disclosure>
  );
}

function OfUnit(o: {
  readonly unit: BondedUnit;
  readonly grades: readonly GradeDraft[];
  readonly onChange: (grades: readonly GradeDraft[]) => void;
  readonly problems: ReadonlyMap<string, string>;
}) {
  const { unit, grades, onChange, problems } = o;
  const tablet = useTablet();
  const notation = useApp((s) => s.settings.notation);
  const label = unitLabel(unit, notation);
  const change = (id: string, part: Partial<GradeDraft>): void =>
    onChange(grades.map((each) => (each.id === id ? { ...each, ...part } : each)));
  const add = (): void => {
    const { scale = 'fdi-2023', year = '' } = grades.at(-1) ?? {};
    onChange([...grades, { id: tablet.newId(), scale, year, item: '', grade: '' }]);
  };
  return (
    <li aria-label={recallVisitWords.gradesOf(label)}>
      <h3>{label}</h3>
      {grades.map((grade) => (
        <div key={grade.id} className="recall-grade">
          <OneGrade
            grade={grade}
            onChange={(part) => change(grade.id, part)}
            problemOf={(field) => problems.get(`${unit.unit} ${grade.id} ${field}`)}
          />
          <Button rank="quiet" onPress={() => onChange(grades.filter(({ id }) => id !== grade.id))}>
            {recallVisitWords.removeGrade}
          </Button>
        </div>
      ))}
      <Button name={recallVisitWords.addGradeName(label)} onPress={add}>
        {recallVisitWords.addGrade}
      </Button>
    </li>
  );
}

function OneGrade(o: {
  readonly grade: GradeDraft;
  readonly onChange: (part: Partial<GradeDraft>) => void;
  readonly problemOf: (field: 'year' | 'grade') => string | undefined;
}) {
  const { grade, onChange, problemOf } = o;
  const problem = problemOf('grade');
  const grades = gradesOf(grade.scale);
  return (
    <>
      <div className="recall-who">
        <SelectField
          label={recallVisitWords.scale}
          value={grade.scale}
          options={Object.entries(recallVisitWords.scales).map(([value, label]) => ({
            value,
            label,
          }))}
          onChange={(scale) => {
            if (!isScale(scale)) return;
            // A grade of another scale is never carried over.
            const isSame = gradesOf(scale) === grades;
            onChange(isSame ? { scale } : { scale, grade: '' });
          }}
        />
        {SCALES[grade.scale].year === null && (
          <TextField
            label={recallVisitWords.year}
            inputMode="numeric"
            width="short"
            value={grade.year}
            onChange={(year) => onChange({ year })}
            problem={problemOf('year')}
          />
        )}
        <TextField
          label={recallVisitWords.item}
          value={grade.item}
          onChange={(item) => onChange({ item })}
        />
      </div>
      <div className="recall-items">
        {recallVisitWords.items
          .filter((item) => item !== grade.item)
          .map((item) => (
            <Button key={item} onPress={() => onChange({ item })}>
              {item}
            </Button>
          ))}
      </div>
      <Segmented
        label={recallVisitWords.gradeLabel}
        value={grade.grade}
        options={grades.map((value) => ({ value, label: value }))}
        onChange={(value) => onChange({ grade: value })}
      />
      {problem !== undefined && <p className="lw-field-problem">{problem}</p>}
    </>
  );
}
