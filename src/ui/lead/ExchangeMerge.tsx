import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from '../../runtime/lead/lead-documents.ts';
import type { Draft } from '../../runtime/lead/lead-drafts.ts';
import { unconfirmed } from '../../runtime/lead/lead-exchange.ts';
import { exchangeWords } from '../../words/exchange-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp } from '../shared/session-context.ts';
import { useDraft } from './editor/editor-draft.ts';
import { type Choice, type MergeRow, mergedProtocol, mergeRows } from './exchange-model.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { useLead } from './use-lead.ts';

interface Base {
  readonly protocol: Protocol;
  readonly hash: string;
}

/** The revision that both clinics last had alike, if it is on this tablet. */
function useCommonBase(draft: Draft): Base | null {
  const revisions = useLead((s) => s.revisions);
  const entries = useApp((s) => s.protocols);
  const known: readonly Base[] = [...revisions, ...entries];
  const hash = [draft.startHash, ...draft.ancestors].find((h) => known.some((k) => k.hash === h));
  return known.find((k) => k.hash === hash) ?? null;
}

/** Chooses difference by difference between what is in use here and what came in the file. */
export function ExchangeMerge({ draft }: { readonly draft: Draft }) {
  const entry = useApp((s) => s.protocols.find((e) => e.protocol.id === draft.start.id));
  const base = useCommonBase(draft);
  const title = exchangeWords.mergeTitle(draft.start.title);
  return (
    <Frame place="protocols" title={title} actions={<LeadDeskActions />}>
      {entry === undefined ? (
        <Banner tone="plain" words={exchangeWords.mergeUnknown} />
      ) : (
        <Merge draft={draft} ours={entry.protocol} base={base} />
      )}
    </Frame>
  );
}

function Merge(props: {
  readonly draft: Draft;
  readonly ours: Protocol;
  readonly base: Base | null;
}) {
  const { draft, ours, base } = props;
  const [, navigate] = useLocation();
  const work = useDraft(draft.id);
  const [choices, setChoices] = useState<ReadonlyMap<string, Choice>>(new Map());
  const theirs = draft.start;
  // The file's notes would differ everywhere from a base that was confirmed here.
  const common = base === null ? null : unconfirmed(base.protocol);
  const isOwn = protocolHash(ours) === draft.startHash;
  const rows = isOwn ? [] : mergeRows({ base: common, ours, theirs });
  const merged = mergedProtocol({ ours, theirs, rows, choices });
  const apply = (): void => {
    if (merged === null || work === null) return;
    if (work.edit({ do: 'replace', protocol: merged })) navigate(`/lead/draft/${draft.id}/effect`);
  };
  if (rows.length === 0) return <Banner tone="plain" words={exchangeWords.mergeSame} />;
  const setAll = (choice: Choice) => setChoices(new Map(rows.map((row) => [row.id, choice])));
  return (
    <>
      <p className="desk-lede">
        {base === null ? exchangeWords.mergeNoBase : exchangeWords.mergeBase(shortHash(base.hash))}
      </p>
      <ButtonRow>
        <Button onPress={() => setAll('ours')}>{exchangeWords.allOurs}</Button>
        <Button onPress={() => setAll('theirs')}>{exchangeWords.allTheirs}</Button>
      </ButtonRow>
      <ul className="merge">
        {rows.map((row) => (
          <Difference
            key={row.id}
            row={row}
            choice={choices.get(row.id) ?? row.first}
            onChoose={(choice) => setChoices(new Map([...choices, [row.id, choice]]))}
          />
        ))}
      </ul>
      <p className="desk-lede">{exchangeWords.applyLede}</p>
      <div>
        <Button rank="main" disabled={merged === null} onPress={apply}>
          {exchangeWords.apply}
        </Button>
      </div>
    </>
  );
}

function Difference(props: {
  readonly row: MergeRow;
  readonly choice: Choice;
  readonly onChoose: (choice: Choice) => void;
}) {
  const { row, choice, onChoose } = props;
  return (
    <li className="merge-row">
      <div>
        <strong>{row.what}</strong>
        <span className="numbers-note">
          {exchangeWords.changedBy} {exchangeWords.side[row.side]}
        </span>
      </div>
      <p data-taken={choice === 'ours'}>{row.before}</p>
      <p data-taken={choice === 'theirs'}>{row.after}</p>
      <Segmented
        label={exchangeWords.pick(row.what)}
        labelUnseen
        value={choice}
        options={[
          { value: 'ours', label: exchangeWords.ours },
          { value: 'theirs', label: exchangeWords.theirs },
        ]}
        onChange={onChoose}
      />
    </li>
  );
}
