import { Link, useLocation } from 'wouter';
import { diffProtocols } from '../../../protocol/diff.ts';
import { historyWords } from '../../../words/history-words.ts';
import { SelectField } from '../../parts/Field.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { ChangeList } from '../editor/ChangeList.tsx';
import { changeRow } from '../editor/editor-change-model.ts';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { historyOf } from '../lead-places.ts';
import { firstOther, type Kept, keptName } from './history-model.ts';

/** One revision beside another: every difference in words. */
export function HistoryCompare(props: {
  readonly all: readonly Kept[];
  readonly kept: Kept;
  /** The hash of the other one; anything else is what is in force. */
  readonly other: string;
}) {
  const { all, kept, other } = props;
  const [, navigate] = useLocation();
  const { id } = kept.protocol;
  const against = all.find(({ hash }) => hash === other) ?? firstOther(all, kept.hash);
  const title = historyWords.title(kept.protocol.title);
  const actions = (
    <>
      <Link className="lw-way" href={historyOf(id)}>
        {historyWords.back}
      </Link>
      <LeadDeskActions />
    </>
  );
  if (against === null) {
    return (
      <Frame place="protocols" title={title} actions={actions}>
        <p>{historyWords.nothingElse}</p>
      </Frame>
    );
  }
  const sides = { before: keptName(kept), after: keptName(against) };
  const compared = { before: kept.protocol, after: against.protocol };
  const rows = diffProtocols(kept.protocol, against.protocol).map((change) =>
    changeRow(change, compared),
  );
  const options = all
    .filter(({ hash }) => hash !== kept.hash)
    .map((each) => ({
      value: each.hash,
      label: each.isInForce ? historyWords.inForce(keptName(each)) : keptName(each),
    }));
  return (
    <Frame
      place="protocols"
      title={title}
      lede={historyWords.compareTitle(sides)}
      actions={actions}
    >
      <div className="own-times-choice">
        <SelectField
          label={historyWords.with}
          value={against.hash}
          options={options}
          onChange={(hash) => navigate(historyOf(id, kept.hash, hash))}
        />
        <Link className="lw-way" href={historyOf(id, against.hash, kept.hash)}>
          {historyWords.swap}
        </Link>
      </div>
      {rows.length === 0 ? (
        <p className="lw-aside">{historyWords.same}</p>
      ) : (
        <ChangeList rows={rows} sides={sides} />
      )}
    </Frame>
  );
}
