import type { Pair } from '../../drill/pair.ts';
import { drillWords } from '../../words/drill-words.ts';
import { TextField } from '../parts/Field.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';

export const NOBODY: Pair = { lead: '', assists: '' };

/** The names of a pair as people say them. */
export function pairWords({ lead, assists }: Pair): string {
  if (lead === '' || assists === '') return lead === '' ? assists : lead;
  return drillWords.pair.both({ lead, assists });
}

/** Two names, typed or chosen. A name that is chosen goes where none stands yet. */
export function PairFields(o: {
  readonly pair: Pair;
  readonly onChange: (pair: Pair) => void;
  readonly labels: {
    readonly lead: string;
    readonly assists: string;
    readonly hint?: string;
  };
  readonly problem?: string | undefined;
}) {
  const { pair, labels, onChange } = o;
  return (
    <>
      <div className="drill-pair">
        <TextField
          label={labels.lead}
          value={pair.lead}
          problem={o.problem}
          onChange={(lead) => onChange({ ...pair, lead })}
        />
        <TextField
          label={labels.assists}
          hint={labels.hint}
          value={pair.assists}
          onChange={(assists) => onChange({ ...pair, assists })}
        />
      </div>
      <PeopleChoices
        named={[pair.lead, pair.assists]}
        onChoose={({ name }) =>
          onChange(pair.lead.trim() === '' ? { ...pair, lead: name } : { ...pair, assists: name })
        }
      />
    </>
  );
}
