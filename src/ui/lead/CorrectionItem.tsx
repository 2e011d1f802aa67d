import { Link } from 'wouter';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { correctionWords } from '../../words/correction-words.ts';
import { leadWords } from '../../words/lead-words.ts';
import { TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf } from '../shared/choices.ts';
import { useTimes } from '../shared/session-context.ts';
import { ANSWERS, type Answer, type Chosen, type CorrectionRow } from './corrections-model.ts';
import { Difference } from './Difference.tsx';

const TAKEN = { take: 'after', keep: 'before', later: null } as const satisfies Record<
  Answer,
  unknown
>;

interface ItemProps {
  readonly row: CorrectionRow;
  readonly chosen: Chosen;
  readonly onChoose: (chosen: Chosen) => void;
  readonly draft: ProtocolDraft | null;
  /** Whether somebody tried to apply the answers. */
  readonly isTried: boolean;
}

/** One correction: both values, why, and its answer. */
export function CorrectionItem({ row, chosen, onChoose, draft, isTried }: ItemProps) {
  const answer = chosen.answers.get(row.id) ?? row.first;
  const choose = (next: Answer): void =>
    onChoose({ ...chosen, answers: new Map([...chosen.answers, [row.id, next]]) });
  const reason = chosen.reasons.get(row.id) ?? '';
  const setReason = (next: string): void =>
    onChoose({ ...chosen, reasons: new Map([...chosen.reasons, [row.id, next]]) });
  return (
    <Difference
      what={row.what}
      difference={row.difference}
      before={row.before}
      after={row.after}
      labels={correctionWords.sides}
      taken={TAKEN[answer]}
      more={
        <>
          <Why row={row} />
          <Standing row={row} draft={draft} />
          {answer === 'keep' && (
            <TextField
              label={correctionWords.reasonName(row.what)}
              value={reason}
              problem={isTried && reason.trim() === '' ? leadWords.problems.noReason : undefined}
              onChange={setReason}
            />
          )}
        </>
      }
    >
      <Segmented
        label={correctionWords.answer(row.what)}
        labelUnseen
        value={answer}
        options={choicesOf(ANSWERS, correctionWords.answers)}
        onChange={choose}
      />
    </Difference>
  );
}

function Why({ row }: { readonly row: CorrectionRow }) {
  return row.reasons.map(({ words, source }) => (
    <p key={words}>
      {words}{' '}
      <span className="numbers-note">
        {source === null ? correctionWords.noSource : correctionWords.source(source)}
      </span>
    </p>
  ));
}

/** Whose word stands behind what is confirmed, and what was answered before. */
function Standing({ row, draft }: Pick<ItemProps, 'row' | 'draft'>) {
  const times = useTimes();
  const { kept } = row;
  return (
    <>
      {row.isTyped && <p className="correction-standing">{correctionWords.typed}</p>}
      {row.isInDraft && draft !== null && (
        <p className="correction-standing">
          {correctionWords.inDraft}{' '}
          <Link href={`/lead/draft/${draft.id}`}>{correctionWords.toDraft}</Link>
        </p>
      )}
      {kept !== null && (
        <p className="correction-standing">
          {correctionWords.kept({
            by: kept.by,
            on: times.moment(kept.atWallMs),
            reason: kept.reason,
          })}
        </p>
      )}
    </>
  );
}
