import { useState } from 'react';
import type { Problem } from '../../../base/problem.ts';
import type { Result } from '../../../base/result.ts';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import { appWords } from '../../../words/app-words.ts';
import {
  materialFormWords,
  stockProblemWords,
  stockWords,
} from '../../../words/material-stock-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { knownClasses } from '../../shared/materials-model.ts';
import { useApp, useTimes } from '../../shared/session-context.ts';
import type { Filled } from './box-fields.ts';
import {
  type DraftProblems,
  draftOf,
  draftProblems,
  EMPTY_DRAFT,
  type MaterialFields,
  materialOf,
} from './material-draft.ts';
import { StockWho } from './StockWho.tsx';
import { useBox } from './use-box.ts';

const OTHER = '\u0000other';

interface FormProps {
  readonly isNew: boolean;
  readonly before: Pick<Material, 'id'> & Partial<Material>;
  readonly isBlocked: boolean;
  /** What is printed on a label whose code was not taken over, to be typed by hand. */
  readonly code: string | null;
  readonly onClose: () => void;
  readonly onSave: (material: Material) => Promise<Result<null, Problem>>;
}

function firstDraft({ isNew, before }: FormProps): MaterialFields {
  if (!isNew) {
    const { materialClass = '', label = '', lot = '', refrigerated = false } = before;
    return draftOf({ ...before, materialClass, label, lot, refrigerated });
  }
  const { lot = '', expiry = '', deviceIdentifier = '' } = before;
  return { ...EMPTY_DRAFT, lot, expiry, deviceIdentifier };
}

/** One entry of the stock list, typed; problems are said once somebody wants to keep it. */
export function MaterialsForm(props: FormProps) {
  const { draft, filled, change } = useBox({ isNew: props.isNew, first: () => firstDraft(props) });
  const [isTried, setTried] = useState(false);
  const [lost, setLost] = useState<string | null>(null);
  const isSaved = useApp((s) => s.journal.saved);
  const times = useTimes();
  // A full tablet answers nothing until it has room again.
  const advice = lost ?? (isTried && !isSaved ? appWords.notSavedAdvice : null);
  const found = draftProblems(draft, Date.now(), times);
  const problems: DraftProblems = isTried ? found : {};
  const parts = { draft, filled, problems, onChange: change };
  const save = async (): Promise<void> => {
    setTried(true);
    if (Object.keys(found).length > 0) return;
    const kept = await props.onSave(materialOf(draft, props.before));
    if (kept.ok) props.onClose();
    else setLost(stockProblemWords(kept.error));
  };
  return (
    <Sheet
      open
      width="wide"
      title={props.isNew ? materialFormWords.titleNew : materialFormWords.titleEdit}
      onClose={props.onClose}
      foot={
        <Button rank="main" disabled={props.isBlocked} onPress={() => void save()}>
          {materialFormWords.save}
        </Button>
      }
    >
      {advice !== null && <Banner tone="attention" words={stockWords.notSaved} advice={advice} />}
      {props.code !== null && <p className="stock-printed">{props.code}</p>}
      <div className="stock-form">
        <TextField
          label={materialFormWords.device}
          hint={
            props.before.deviceIdentifier === undefined
              ? materialFormWords.deviceHint
              : materialFormWords.from
          }
          problem={problems.device}
          value={draft.deviceIdentifier}
          onChange={(deviceIdentifier) => change({ deviceIdentifier })}
        />
        <ClassField {...parts} problem={problems.class} />
        <TextField
          label={materialFormWords.label}
          hint={materialFormWords.labelHint}
          readBack={filledWords(filled.label)}
          problem={problems.label}
          value={draft.label}
          onChange={(label) => change({ label })}
        />
        <TextField
          label={materialFormWords.lot}
          hint={props.before.scanned === undefined ? undefined : materialFormWords.from}
          problem={problems.lot}
          value={draft.lot}
          onChange={(lot) => change({ lot })}
        />
        <TextField
          label={materialFormWords.expiry}
          hint={materialFormWords.expiryHint}
          type="date"
          problem={problems.expiry}
          readBack={draft.expiry === '' ? undefined : times.dateOf(draft.expiry)}
          value={draft.expiry}
          onChange={(expiry) => change({ expiry })}
        />
        <Opening {...parts} />
        <Cold {...parts} />
        <TextField
          label={materialFormWords.note}
          readBack={filledWords(filled.note)}
          value={draft.note}
          onChange={(note) => change({ note })}
        />
        <StockWho />
      </div>
    </Sheet>
  );
}

interface PartProps {
  readonly draft: MaterialFields;
  readonly filled: Filled;
  readonly problems: DraftProblems;
  readonly onChange: (part: Partial<MaterialFields>) => void;
}

function filledWords(by: Filled[keyof Filled]): string | undefined {
  if (by === undefined) return undefined;
  return by === 'sheet' ? materialFormWords.asSheet : materialFormWords.asLastBox;
}

function ClassField(o: PartProps & { readonly problem: string | undefined }) {
  const protocols = useApp((s) => s.protocols);
  const materials = useStock((s) => s.materials);
  const classes = knownClasses(
    protocols.map((p) => p.protocol),
    materials,
  );
  const { materialClass } = o.draft;
  const [isAsked, setAsked] = useState(false);
  const isOther = isAsked || (materialClass !== '' && !classes.includes(materialClass));
  return (
    <>
      <SelectField
        label={materialFormWords.class}
        hint={materialFormWords.classHint}
        problem={isOther ? undefined : o.problem}
        readBack={filledWords(o.filled.materialClass)}
        value={isOther ? OTHER : materialClass}
        options={[
          { value: '', label: '' },
          ...classes.map((value) => ({ value, label: value })),
          { value: OTHER, label: materialFormWords.classOther },
        ]}
        onChange={(value) => {
          setAsked(value === OTHER);
          o.onChange({ materialClass: value === OTHER ? '' : value });
        }}
      />
      {isOther && (
        <TextField
          label={materialFormWords.classOtherLabel}
          problem={o.problem}
          value={materialClass}
          onChange={(value) => o.onChange({ materialClass: value })}
        />
      )}
    </>
  );
}

function Opening({ draft, filled, problems, onChange }: PartProps) {
  const times = useTimes();
  return (
    <>
      <TextField
        label={materialFormWords.opened}
        type="date"
        problem={problems.opened}
        readBack={draft.openedOn === '' ? undefined : times.dateOf(draft.openedOn)}
        value={draft.openedOn}
        onChange={(openedOn) => onChange({ openedOn })}
      />
      <TextField
        label={materialFormWords.within}
        hint={materialFormWords.withinHint}
        unit={materialFormWords.days}
        width="short"
        inputMode="numeric"
        problem={problems.within}
        readBack={filledWords(filled.useWithinDays)}
        value={draft.useWithinDays}
        onChange={(useWithinDays) => onChange({ useWithinDays })}
      />
    </>
  );
}

function Cold({ draft, filled, problems, onChange }: PartProps) {
  return (
    <>
      <Check
        label={materialFormWords.refrigerated}
        note={filledWords(filled.refrigerated)}
        checked={draft.refrigerated}
        onChange={(refrigerated) => onChange({ refrigerated })}
      />
      {draft.refrigerated && (
        <TextField
          label={materialFormWords.warm}
          hint={materialFormWords.warmHint}
          unit={materialFormWords.minutes}
          width="short"
          inputMode="numeric"
          problem={problems.warm}
          readBack={filledWords(filled.warmUpMinutes)}
          value={draft.warmUpMinutes}
          onChange={(warmUpMinutes) => onChange({ warmUpMinutes })}
        />
      )}
    </>
  );
}
