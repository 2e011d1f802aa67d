import { Link } from 'wouter';
import { approvers } from '../../../words/approval-words.ts';
import { historyWords } from '../../../words/history-words.ts';
import { leadWords } from '../../../words/lead-words.ts';
import { toldProtocol } from '../../../words/told-protocol.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { ProtocolLanguage } from '../../shared/ProtocolLanguage.tsx';
import { ProtocolRead } from '../../shared/ProtocolRead.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { standingWords } from '../desk-words.ts';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { historyOf } from '../lead-places.ts';
import { useDeed } from '../use-deed.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { useRevisionDeeds } from '../use-revision-deeds.ts';
import { HistoryCompare } from './HistoryCompare.tsx';
import { type Kept, keptName, keptOf } from './history-model.ts';
import '../editor/editor.css';

interface HistoryProps {
  readonly protocolId: string;
  /** The one that is read or compared; all are listed without it. */
  readonly hash?: string | undefined;
  /** What it is compared with. */
  readonly other?: string;
}

/** Every revision of one protocol: to read, to compare, to hand on, to begin again from. */
export function History({ protocolId, hash, other }: HistoryProps) {
  const revisions = useLead((s) => s.revisions);
  const templates = useLead((s) => s.templates);
  const all = keptOf(protocolId, { revisions, templates });
  const kept = all.find((each) => each.hash === hash);
  const title = historyWords.title(all[0]?.protocol.title ?? protocolId);
  if (all.length === 0 || (hash !== undefined && kept === undefined)) {
    return (
      <Frame place="protocols" title={title} actions={<LeadDeskActions />}>
        <EmptyState
          words={historyWords.gone}
          action={<Link href={historyOf(protocolId)}>{historyWords.back}</Link>}
        />
      </Frame>
    );
  }
  if (kept === undefined) {
    return (
      <Frame place="protocols" title={title} lede={historyWords.lede} actions={<LeadDeskActions />}>
        <Section title={historyWords.revisions}>
          <ul className="desk-list" aria-label={historyWords.revisions}>
            {all.map((each) => (
              <Row key={each.hash} kept={each} isOnly={all.length === 1} />
            ))}
          </ul>
        </Section>
      </Frame>
    );
  }
  if (other !== undefined) return <HistoryCompare all={all} kept={kept} other={other} />;
  return <Read kept={kept} isOnly={all.length === 1} />;
}

/** What can be done with one revision. */
function Deeds(props: {
  readonly kept: Kept;
  /** Nothing to compare it with. */
  readonly isOnly: boolean;
  readonly isRead?: boolean;
}) {
  const { kept, isOnly, isRead = false } = props;
  const desk = useLeadDesk();
  const { act, words } = useDeed();
  const { begin, exportIt } = useRevisionDeeds(kept, act);
  const { protocol, hash, revision } = kept;
  const name = keptName(kept);
  const retired = revision?.approval && revision.retirement ? revision : null;
  return (
    <>
      <ButtonRow>
        {!isRead && (
          <Link
            className="lw-way"
            href={historyOf(protocol.id, hash)}
            aria-label={historyWords.readName(name)}
          >
            {historyWords.read}
          </Link>
        )}
        {!isOnly && (
          <Link
            className="lw-way"
            href={historyOf(protocol.id, hash, 'with')}
            aria-label={historyWords.compareName(name)}
          >
            {historyWords.compare}
          </Link>
        )}
        <Button name={historyWords.exportName(name)} onPress={() => void exportIt()}>
          {historyWords.exportDo}
        </Button>
        <Button name={historyWords.beginName(name)} onPress={() => void begin()}>
          {historyWords.begin}
        </Button>
        {retired !== null && (
          <Button
            rank="quiet"
            name={historyWords.bringBackName(name)}
            onPress={() => void act(desk.bringBack(retired))}
          >
            {leadWords.bringBack}
          </Button>
        )}
      </ButtonRow>
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
    </>
  );
}

function Standing({ kept }: { readonly kept: Kept }) {
  const times = useTimes();
  const { revision, isInForce } = kept;
  if (revision === null) {
    return <span>{isInForce ? historyWords.isTemplateInUse : historyWords.isTemplate}</span>;
  }
  const { approval, elsewhere } = revision;
  if (approval === null) {
    return (
      <span>
        {elsewhere === null
          ? historyWords.unconfirmed
          : historyWords.elsewhere({ by: elsewhere.by, on: times.moment(elsewhere.onWallMs) })}
      </span>
    );
  }
  return (
    <>
      <span>
        {revision.retirement === null && !isInForce
          ? historyWords.newerInUse
          : standingWords(revision)}
      </span>
      <span>
        {leadWords.confirmed({ by: approvers(approval), on: times.moment(approval.onWallMs) })}
      </span>
    </>
  );
}

function Row({ kept, isOnly }: { readonly kept: Kept; readonly isOnly: boolean }) {
  return (
    <li className="desk-row">
      <div>
        <h3>
          <Link href={historyOf(kept.protocol.id, kept.hash)}>{keptName(kept)}</Link>
        </h3>
        <p className="standing">
          <Standing kept={kept} />
        </p>
      </div>
      <Deeds kept={kept} isOnly={isOnly} />
    </li>
  );
}

function Read({ kept, isOnly }: { readonly kept: Kept; readonly isOnly: boolean }) {
  const protocol = toldProtocol(kept.protocol);
  return (
    <Frame
      place="protocols"
      title={protocol.title}
      lede={protocol.summary}
      actions={
        <>
          <Link className="lw-way" href={historyOf(protocol.id)}>
            {historyWords.back}
          </Link>
          <LeadDeskActions />
        </>
      }
    >
      <div className="protocols-head">
        <p className="standing">
          <strong>{keptName(kept)}</strong>
          <Standing kept={kept} />
        </p>
        <p className="lw-aside desk-hash">{historyWords.wholeHash(kept.hash)}</p>
        <Deeds kept={kept} isOnly={isOnly} isRead />
        <p className="lw-aside">{historyWords.beginLede}</p>
      </div>
      <ProtocolLanguage protocol={kept.protocol} />
      <ProtocolRead protocol={protocol} />
    </Frame>
  );
}
