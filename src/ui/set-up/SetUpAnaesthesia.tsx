import { anaesthesiaTable } from '../../plan/anaesthesia-table.ts';
import { agentWords, besideWords, techniqueWords } from '../../words/beside-words.ts';
import { SelectField } from '../parts/Field.tsx';
import type { DraftPartProps } from './set-up-drafts.ts';

/** What is to be injected, so that the plan can say whether it lasts. */
export function SetUpAnaesthesia({ draft, change }: DraftPartProps) {
  const { agents, techniques } = anaesthesiaTable();
  const none = { value: '', label: besideWords.none };
  const setAgent = (agent: string): void => {
    const technique = agent === '' ? '' : draft.technique || (techniques[0] ?? '');
    change({ ...draft, agent, technique });
  };
  return (
    <>
      <SelectField
        label={besideWords.agent}
        hint={besideWords.shadeFirst}
        value={draft.agent}
        options={[none, ...agents.map(({ id }) => ({ value: id, label: agentWords(id) }))]}
        onChange={setAgent}
      />
      {draft.agent !== '' && (
        <SelectField
          label={besideWords.technique}
          value={draft.technique}
          options={techniques.map((id) => ({ value: id, label: techniqueWords(id) }))}
          onChange={(technique) => change({ ...draft, technique })}
        />
      )}
    </>
  );
}
