import { recallVisitWords } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { useTablet } from '../shared/session-context.ts';
import type { UnitProps } from './FoundChoice.tsx';
import { type GradeDraft, SCALES, type ScaleId } from './visit-draft.ts';

const FDI_GRADES = ['1', '2', '3', '4', '5'] as const;

const gradesOf = (scale: ScaleId): readonly string[] =>
  scale === 'usphs' ? recallVisitWords.usphs : FDI_GRADES;

const isScale = (value: string): value is ScaleId => Object.hasOwn(SCALES, value);

/** Grades of a named scale, for those who want them. They are kept as entered and change nothing else. */
export function RecallGrades({ unit, draft, onChange, problems }: UnitProps) {
  const tablet = useTablet();
  const { grades } = draft;
  const change = (id: string, part: Partial<GradeDraft>): void =>
    onChange({ grades: grades.map((each) => (each.id === id ? { ...each, ...part } : each)) });
  const add = (): void => {
    const scale = grades.at(-1)?.scale ?? 'fdi-2023';
    const year = grades.at(-1)?.year ?? '';
    onChange({ grades: [...grades, { id: tablet.newId(), scale, year, item: '', grade: '' }] });
  };
  return (
    <Disclosure summary={recallVisitWords.grades} open={grades.length > 0 ? true : undefined}>
      <p className="lw-field-hint">{recallVisitWords.gradesHint}</p>
      <ul className="recall-grades">
        {grades.map((grade) => (
          <li key={grade.id}>
            <OneGrade
              grade={grade}
              onChange={(part) => change(grade.id, part)}
              problemOf={(field) => problems.get(`${unit.unit} ${grade.id} ${field}`)}
            />
            <Button
              rank="quiet"
              onPress={() => onChange({ grades: grades.filter(({ id }) => id !== grade.id) })}
            >
              {recallVisitWords.removeGrade}
            </Button>
          </li>
        ))}
      </ul>
      <Button onPress={add}>{recallVisitWords.addGrade}</Button>
    </Disclosure>
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
