import { THENS } from '../../outcomes/vocabulary.ts';
import {
  followUpWords,
  recallVisitWords,
  unitKind,
  unitLabel,
} from '../../words/follow-up-words.ts';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { FindingChoice, SeenChoice, type UnitProps } from './FoundChoice.tsx';
import { RecallRetainers } from './RecallRetainers.tsx';
import { hasEvent } from './visit-draft.ts';

/** What is found of one unit. */
export function RecallUnit(o: UnitProps) {
  const { unit, draft, onChange, problems, place } = o;
  const notation = useApp((s) => s.settings.notation);
  const label = unitLabel(unit, notation);
  const problem = problems.get(`${place}.findings`) ?? problems.get(place);
  const isBridge = unit.isBridge && unit.teeth.length > 1;
  return (
    <li className="recall-unit" data-open={hasEvent(draft)} aria-label={label}>
      <div className="recall-unit-head">
        <p>
          <strong>{label}</strong> <span className="lw-quiet">{unitKind(unit)}</span>
        </p>
        <SeenChoice
          label={recallVisitWords.ofUnit(label)}
          draft={draft}
          onChange={(seen) => onChange({ seen })}
        />
      </div>
      {problem !== undefined && <p className="lw-field-problem">{problem}</p>}
      {hasEvent(draft) && (
        <div className="recall-unit-body">
          <FindingChoice
            label={isBridge ? recallVisitWords.wholeBridge : recallVisitWords.what}
            draft={draft}
            onChange={(findings) => onChange({ findings })}
          />
          {isBridge && <RecallRetainers {...o} />}
          <Afterwards {...o} />
        </div>
      )}
    </li>
  );
}

/** What was done about it, and since when the patient knows it. */
function Afterwards({ unit, draft, onChange, others, problems, place }: UnitProps) {
  const { dateOf } = useTimes();
  const again = others.filter(({ units }) =>
    units.some(({ teeth }) => teeth.some((tooth) => unit.teeth.includes(tooth))),
  );
  return (
    <>
      <Segmented
        label={recallVisitWords.done}
        value={draft.done}
        options={[
          ...THENS.map((then) => ({ value: then, label: followUpWords.thens[then] })),
          { value: '' as const, label: recallVisitWords.doneUnsaid },
        ]}
        onChange={(done) => onChange({ done })}
      />
      {draft.done === 'bonded-again' && again.length > 0 && (
        <SelectField
          label={recallVisitWords.bondedAgainIn}
          value={draft.bondedAgainIn}
          options={[
            { value: '', label: recallVisitWords.bondedAgainUnknown },
            ...again.map(({ caseId, title, bondedOn }) => ({
              value: caseId,
              label: recallVisitWords.caseLine({ title, on: dateOf(bondedOn) }),
            })),
          ]}
          onChange={(bondedAgainIn) => onChange({ bondedAgainIn })}
        />
      )}
      <TextField
        label={recallVisitWords.statedDay}
        hint={recallVisitWords.statedDayHint}
        type="date"
        width="short"
        value={draft.statedDay}
        onChange={(statedDay) => onChange({ statedDay })}
        problem={problems.get(`${place}.statedDay`)}
      />
    </>
  );
}
