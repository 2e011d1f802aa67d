import { useState } from 'react';
import { basisWords } from '../../words/basis-words.ts';
import { editorWords } from '../../words/editor-words.ts';
import { Button } from '../parts/Button.tsx';
import { Check } from '../parts/Segmented.tsx';
import { useTimes } from '../shared/session-context.ts';
import { useFirstFault } from '../shared/use-first-fault.ts';
import { type FigureGroup, figureName, spotId, tickId } from './approval-groups.ts';
import { InstructionFields } from './editor/EditorBasisFields.tsx';
import { FieldProblem } from './editor/EntryFields.tsx';
import { basisEntry, basisOf, basisProblems } from './editor/editor-basis.ts';
import type { OpenDraft } from './editor/open-draft.ts';
import { useLead, useLeadDesk } from './use-lead.ts';

/**
 * The numbers of one material and the document that holds them. Each is ticked for itself, beside its
 * value, because a tick says that somebody has read it there.
 */
export function ApprovalGroup(props: { readonly draft: OpenDraft; readonly group: FigureGroup }) {
  const { draft, group } = props;
  const desk = useLeadDesk();
  const keeper = useLead((s) => s.keeper) ?? '';
  const { sources } = draft.protocol;
  const times = useTimes();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const { body, tries, fail } = useFirstFault<HTMLDivElement>();
  const [entry, setEntry] = useState(() =>
    basisEntry(null, { person: keeper, today: times.isoDay(desk.nowWallMs()), sources }),
  );
  const picked = group.figures.filter((figure) => chosen.has(tickId(figure)));
  const tick = (id: string, isOn: boolean): void => {
    const next = new Set(chosen);
    if (isOn) next.add(id);
    else next.delete(id);
    setChosen(next);
  };
  const apply = (): void => {
    const basis = basisOf(entry);
    const spots = picked.map(({ spot }) => spot);
    const isWhole = basis !== null && spots.length > 0;
    if (isWhole && draft.edit({ do: 'set-basis', spots, basis })) setChosen(new Set());
    else fail();
  };
  return (
    <div className="approval-bulk" ref={body}>
      <fieldset className="approval-open">
        <legend>{editorWords.confirm.choose}</legend>
        <div className="approval-list">
          {group.figures.map((figure) => (
            <Check
              key={spotId(figure.spot)}
              label={figureName(figure)}
              note={basisWords(figure.figure.basis, sources).line}
              checked={chosen.has(tickId(figure))}
              onChange={(isOn) => tick(tickId(figure), isOn)}
            />
          ))}
        </div>
        <FieldProblem
          words={tries > 0 && picked.length === 0 ? editorWords.confirm.pick : undefined}
        />
      </fieldset>
      <div className="approval-document">
        <h4>{editorWords.confirm.doc}</h4>
        <InstructionFields
          entry={entry}
          onChange={setEntry}
          keys={['document', 'revision', 'page', 'confirmedBy', 'confirmedOn', 'reviewDue']}
          problems={tries > 0 ? basisProblems(entry) : undefined}
        />
        <Button onPress={apply}>{editorWords.confirm.bulk(picked.length)}</Button>
      </div>
    </div>
  );
}
