import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from '../../runtime/lead/lead-documents.ts';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { unconfirmed } from '../../runtime/lead/lead-protocol-file.ts';
import { otherClinicsWords } from '../../words/other-clinics-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf } from '../shared/choices.ts';
import { Frame } from '../shared/Frame.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp } from '../shared/session-context.ts';
import { type Choice, type CompareRow, chosenProtocol, compareRows } from './compare-model.ts';
import { Difference } from './Difference.tsx';
import { useOpenDraft } from './editor/open-draft.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { useLead } from './use-lead.ts';

const CHOICES: readonly Choice[] = ['here', 'other'];

interface Base {
  readonly protocol: Protocol;
  readonly hash: string;
}

/** The revision that both clinics last had alike, if it is on this tablet. */
function useCommonBase(draft: ProtocolDraft): Base | null {
  const revisions = useLead((s) => s.revisions);
  const entries = useApp((s) => s.protocols);
  const known: readonly Base[] = [...revisions, ...entries];
  const hash = [draft.startHash, ...draft.ancestors].find((h) => known.some((k) => k.hash === h));
  return known.find((k) => k.hash === hash) ?? null;
}

/** Chooses difference by difference between what is in use here and what came in the file. */
export function OtherClinicsCompare({ draft }: { readonly draft: ProtocolDraft }) {
  const entry = useApp((s) => s.protocols.find((e) => e.protocol.id === draft.start.id));
  const base = useCommonBase(draft);
  const title = otherClinicsWords.compareTitle(draft.start.title);
  return (
    <Frame place="protocols" title={title} actions={<LeadDeskActions />}>
      {entry === undefined ? (
        <Banner tone="plain" words={otherClinicsWords.unknown} />
      ) : (
        <Compare draft={draft} here={entry.protocol} base={base} />
      )}
    </Frame>
  );
}

function Compare(props: {
  readonly draft: ProtocolDraft;
  readonly here: Protocol;
  readonly base: Base | null;
}) {
  const { draft, here, base } = props;
  const [, navigate] = useLocation();
  const work = useOpenDraft(draft.id);
  const [choices, setChoices] = useState<ReadonlyMap<string, Choice>>(new Map());
  const [isUnfit, setUnfit] = useState(false);
  const other = draft.start;
  // The file's notes would differ everywhere from a base that was confirmed here.
  const common = base === null ? null : unconfirmed(base.protocol);
  const isOwn = protocolHash(here) === draft.startHash;
  const rows = isOwn ? [] : compareRows({ base: common, here, other });
  const chosen = chosenProtocol({ here, other, rows, choices });
  const apply = (): void => {
    if (chosen === null || work === null) {
      setUnfit(true);
      return;
    }
    if (work.edit({ do: 'replace', protocol: chosen })) navigate(`/lead/draft/${draft.id}/effect`);
  };
  if (rows.length === 0) return <Banner tone="plain" words={otherClinicsWords.same} />;
  const setAll = (choice: Choice) => setChoices(new Map(rows.map((row) => [row.id, choice])));
  return (
    <>
      <p className="desk-lede">
        {base === null ? otherClinicsWords.noBase : otherClinicsWords.base(shortHash(base.hash))}
      </p>
      <ButtonRow>
        <Button onPress={() => setAll('here')}>{otherClinicsWords.all.here}</Button>
        <Button onPress={() => setAll('other')}>{otherClinicsWords.all.other}</Button>
      </ButtonRow>
      <ul className="compare">
        {rows.map((row) => (
          <ChosenDifference
            key={row.id}
            row={row}
            choice={choices.get(row.id) ?? row.first}
            onChoose={(choice) => setChoices(new Map([...choices, [row.id, choice]]))}
          />
        ))}
      </ul>
      <p className="desk-lede">{otherClinicsWords.applyLede}</p>
      {isUnfit && chosen === null && <Banner tone="attention" words={otherClinicsWords.unfit} />}
      <div>
        <Button rank="main" onPress={apply}>
          {otherClinicsWords.apply}
        </Button>
      </div>
    </>
  );
}

function ChosenDifference(props: {
  readonly row: CompareRow;
  readonly choice: Choice;
  readonly onChoose: (choice: Choice) => void;
}) {
  const { row, choice, onChoose } = props;
  return (
    <Difference
      what={row.what}
      note={otherClinicsWords.changedBy[row.side]}
      difference={row.difference}
      before={row.before}
      after={row.after}
      taken={choice === 'here' ? 'before' : 'after'}
    >
      <Segmented
        label={otherClinicsWords.pick(row.what)}
        labelUnseen
        value={choice}
        options={choicesOf(CHOICES, otherClinicsWords.choice)}
        onChange={onChoose}
      />
    </Difference>
  );
}
