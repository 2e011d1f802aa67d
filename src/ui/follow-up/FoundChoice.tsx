import type { BondedUnit } from '../../outcomes/follow-up-types.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords, recallVisitWords } from '../../words/follow-up-words.ts';
import { Check, Segmented } from '../parts/Segmented.tsx';
import { FOUND, type FoundDraft, toggled, type UnitDraft } from './visit-draft.ts';

/** What every part of one unit is given. */
export interface UnitProps {
  readonly unit: BondedUnit;
  readonly draft: UnitDraft;
  readonly onChange: (change: Partial<UnitDraft>) => void;
  /** Other cases of the same patient. */
  readonly others: readonly FollowUpRow[];
  readonly problems: ReadonlyMap<string, string>;
  /** Where the unit stands in the visit: `visit.units[0]`. */
  readonly place: string;
}

const seenOptions = () => [
  { value: 'in-place' as const, label: followUpWords.findings['in-place'].name },
  { value: 'found' as const, label: recallVisitWords.found },
  { value: 'not-seen' as const, label: followUpWords.findings['not-seen'].name },
];

/** What is first said of a unit or a retainer. */
export function SeenChoice(o: {
  readonly label: string;
  readonly draft: FoundDraft;
  readonly onChange: (seen: FoundDraft['seen']) => void;
}) {
  return (
    <Segmented
      label={o.label}
      value={o.draft.seen}
      options={seenOptions()}
      onChange={(seen) => o.onChange(seen)}
    />
  );
}

/** All that can be found, several where they combine. */
export function FindingChoice(o: {
  readonly label: string;
  readonly draft: FoundDraft;
  readonly onChange: (findings: FoundDraft['findings']) => void;
}) {
  const { label, draft, onChange } = o;
  return (
    <fieldset className="recall-findings">
      <legend className="lw-field-label">
        {label} <span className="lw-field-hint">{recallVisitWords.severalHint}</span>
      </legend>
      <div>
        {FOUND.map((finding) => (
          <Check
            key={finding}
            label={followUpWords.findings[finding].name}
            note={followUpWords.findings[finding].means}
            checked={draft.findings.includes(finding)}
            onChange={() => onChange(toggled(draft.findings, finding))}
          />
        ))}
      </div>
    </fieldset>
  );
}
