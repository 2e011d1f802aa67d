import { recallVisitWords } from '../../words/follow-up-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { useApp } from '../shared/session-context.ts';
import { FindingChoice, SeenChoice, type UnitProps } from './FoundChoice.tsx';
import type { FoundDraft } from './visit-draft.ts';

const NOTHING: FoundDraft = { seen: '', findings: [] };

/** Of a bridge: what is found of each retainer by itself. */
export function RecallRetainers({ unit, draft, onChange, problems, place }: UnitProps) {
  const notation = useApp((s) => s.settings.notation);
  const change = (tooth: string, next: Partial<FoundDraft>): void => {
    const own = draft.retainers[tooth] ?? NOTHING;
    onChange({ retainers: { ...draft.retainers, [tooth]: { ...own, ...next } } });
  };
  // In the visit stand only those of which something was said.
  const told = unit.teeth.filter((tooth) => (draft.retainers[tooth] ?? NOTHING).seen !== '');
  return (
    <div className="recall-retainers">
      <p className="lw-field-hint">{recallVisitWords.bridgeHint}</p>
      {unit.teeth.map((tooth) => {
        const own = draft.retainers[tooth] ?? NOTHING;
        const label = recallVisitWords.ofRetainer(toothLabel(tooth, notation));
        const at = told.indexOf(tooth);
        const problem = problems.get(`${place}.retainers[${at}]`);
        return (
          <div key={tooth} className="recall-retainer">
            <SeenChoice label={label} draft={own} onChange={(seen) => change(tooth, { seen })} />
            {own.seen === 'found' && (
              <FindingChoice
                label={label}
                draft={own}
                onChange={(findings) => change(tooth, { findings })}
              />
            )}
            {problem !== undefined && <p className="lw-field-problem">{problem}</p>}
          </div>
        );
      })}
    </div>
  );
}
