import { useState } from 'react';
import type { SheetDraft } from '../../../protocol/sheet-draft.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { knownClasses } from '../../shared/materials-model.ts';
import { useApp, useTimes } from '../../shared/session-context.ts';
import { wrongIdentifier } from './identifiers.ts';
import type { ProblemAt } from './problem-at.ts';

interface HeadProps {
  readonly draft: SheetDraft;
  readonly problemAt: ProblemAt;
  readonly onChange: (draft: SheetDraft) => void;
}

/** Which document it is. A new revision asks for what changes with it; the rest is folded away. */
export function SheetHead(props: HeadProps) {
  const { draft, problemAt } = props;
  // What is wrong must not lie folded away.
  const isWrong =
    wrongIdentifier(draft.identifiers) !== null ||
    (['materialClass', 'document'] as const).some((field) => problemAt(null, field) !== undefined);
  return (
    <Section title={sheetWords.head}>
      {draft.kind === 'new' ? (
        <div className="sheet-head">
          <ClassField {...props} />
          <Title {...props} />
          <State {...props} />
          <Rest {...props} />
        </div>
      ) : (
        <>
          <div className="sheet-head">
            <State {...props} />
          </div>
          <Disclosure summary={sheetWords.facts.document} open={isWrong || undefined}>
            <div className="sheet-head">
              <Title {...props} />
              <ClassField {...props} />
              <Rest {...props} />
            </div>
          </Disclosure>
        </>
      )}
    </Section>
  );
}

/** A class that no protocol and no box has, in the list of classes. */
const OTHER = '\u0000other';

function ClassField({ draft, problemAt, onChange }: HeadProps) {
  const protocols = useApp((s) => s.protocols);
  const materials = useStock((s) => s.materials);
  const classes = knownClasses(
    protocols.map(({ protocol }) => protocol),
    materials,
  );
  const { materialClass } = draft;
  const [isOther, setOther] = useState(materialClass !== '' && !classes.includes(materialClass));
  const set = (next: string): void => onChange({ ...draft, materialClass: next });
  const problem = problemAt(null, 'materialClass');
  return (
    <>
      <SelectField
        label={sheetWords.facts.materialClass}
        hint={sheetWords.classHint}
        problem={isOther ? undefined : problem}
        value={isOther ? OTHER : materialClass}
        options={[
          { value: '', label: '' },
          ...classes.map((value) => ({ value, label: value })),
          { value: OTHER, label: sheetWords.otherClass },
        ]}
        onChange={(value) => {
          setOther(value === OTHER);
          set(value === OTHER ? '' : value);
        }}
      />
      {isOther && (
        <TextField
          label={sheetWords.classField}
          problem={problem}
          value={materialClass}
          onChange={set}
        />
      )}
    </>
  );
}

function Title({ draft, problemAt, onChange }: HeadProps) {
  return (
    <TextField
      label={sheetWords.facts.document}
      hint={sheetWords.documentHint}
      problem={problemAt(null, 'document')}
      value={draft.document}
      onChange={(document) => onChange({ ...draft, document })}
    />
  );
}

function State({ draft, problemAt, onChange }: HeadProps) {
  const times = useTimes();
  const problem = problemAt(null, 'date');
  const isRead = draft.date !== '' && problem === undefined && draft.date.length === 10;
  return (
    <>
      <TextField
        label={sheetWords.facts.revision}
        hint={draft.before === '' ? undefined : sheetWords.before(draft.before)}
        problem={problemAt(null, 'revision')}
        value={draft.revision}
        onChange={(revision) => onChange({ ...draft, revision })}
      />
      <TextField
        label={sheetWords.facts.date}
        hint={sheetWords.dateHint}
        type="date"
        problem={problem}
        readBack={isRead ? times.dateOf(draft.date) : undefined}
        value={draft.date}
        onChange={(date) => onChange({ ...draft, date })}
      />
    </>
  );
}

function Rest({ draft, onChange }: HeadProps) {
  const wrong = wrongIdentifier(draft.identifiers);
  return (
    <>
      <TextField
        label={sheetWords.facts.pages}
        value={draft.pages}
        onChange={(pages) => onChange({ ...draft, pages })}
      />
      <TextField
        label={sheetWords.facts.identifiers}
        hint={sheetWords.identifiersHint}
        problem={wrong === null ? undefined : sheetWords.wrongIdentifier(wrong)}
        value={draft.identifiers}
        onChange={(identifiers) => onChange({ ...draft, identifiers })}
      />
    </>
  );
}
