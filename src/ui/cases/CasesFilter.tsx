import { type CaseFilter, NO_FILTER } from '../../runtime/cases/cases-list-facts.ts';
import { caseListWords } from '../../words/case-list-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';

const LIMITS = ['any', 'some', 'none'] as const;
const KINDS = ['any', 'patient', 'rehearsal'] as const;

const isNarrowed = (filter: CaseFilter): boolean =>
  [filter.tooth, filter.from, filter.to].some((text) => text !== '') ||
  filter.breaches !== 'any' ||
  filter.mode !== 'any';

/** What the list is narrowed by. */
export function CasesFilter(o: {
  readonly filter: CaseFilter;
  readonly onChange: (filter: CaseFilter) => void;
}) {
  const { filter } = o;
  const change = (part: Partial<CaseFilter>) => o.onChange({ ...filter, ...part });
  return (
    <search className="cases-filter">
      <TextField
        label={caseListWords.find}
        hint={caseListWords.findHint}
        type="search"
        value={filter.words}
        onChange={(words) => change({ words })}
      />
      <Disclosure summary={caseListWords.narrow} open={isNarrowed(filter)}>
        <div className="cases-narrow">
          <TextField
            label={caseListWords.tooth}
            hint={caseListWords.toothHint}
            inputMode="numeric"
            value={filter.tooth}
            onChange={(tooth) => change({ tooth: tooth.trim() })}
          />
          <TextField
            label={caseListWords.from}
            type="date"
            value={filter.from}
            onChange={(from) => change({ from })}
          />
          <TextField
            label={caseListWords.to}
            type="date"
            value={filter.to}
            onChange={(to) => change({ to })}
          />
          <Segmented
            label={caseListWords.limits}
            value={filter.breaches}
            options={LIMITS.map((value) => ({ value, label: caseListWords.limitsOptions[value] }))}
            onChange={(breaches) => change({ breaches })}
          />
          <Segmented
            label={caseListWords.kind}
            value={filter.mode}
            options={KINDS.map((value) => ({ value, label: caseListWords.kindOptions[value] }))}
            onChange={(mode) => change({ mode })}
          />
        </div>
      </Disclosure>
      {(filter.words !== '' || isNarrowed(filter)) && (
        <Button rank="quiet" onPress={() => o.onChange(NO_FILTER)}>
          {caseListWords.clear}
        </Button>
      )}
    </search>
  );
}
