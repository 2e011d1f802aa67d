import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { unconfirmedFigures } from '../../protocol/edit-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { ProtocolEntry } from '../../runtime/app-state.ts';
import { saveFile } from '../../runtime/cases/share.ts';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { approvers } from '../../words/approval-words.ts';
import { historyWords } from '../../words/history-words.ts';
import { leadWords } from '../../words/lead-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { recallWords } from '../../words/recall-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { Frame } from '../shared/Frame.tsx';
import { RECALLS } from '../shared/materials-model.ts';
import { shortHash } from '../shared/protocol-model.ts';
import { useApp, useTimes } from '../shared/session-context.ts';
import { useFirstFault } from '../shared/use-first-fault.ts';
import { BeginProtocol } from './BeginProtocol.tsx';
import { CorrectionsLink } from './Corrections.tsx';
import { DrillsSign } from './DrillsSign.tsx';
import { standingWords } from './desk-words.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { historyOf, OTHER_CLINICS, OWN_TIMES, SHEETS } from './lead-places.ts';
import { SecondPerson } from './SecondPerson.tsx';
import { useCameIn } from './use-came-in.ts';
import { type Act, useDeed } from './use-deed.ts';
import { useLead, useLeadDesk } from './use-lead.ts';
import { useRevisionDeeds } from './use-revision-deeds.ts';

/** What lies on the desk: drafts, protocols with their revisions, and what has to be looked at. */
export function LeadDeskHome() {
  const entries = useApp((s) => s.protocols);
  const drafts = useLead((s) => s.drafts);
  const { act, words } = useDeed();
  return (
    <Frame
      place="protocols"
      title={leadWords.title}
      lede={leadWords.lede}
      actions={<LeadDeskActions isHome />}
    >
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
      <Refused />
      <Section title={leadWords.drafts} lede={leadWords.draftsLede}>
        {drafts.length === 0 ? (
          <p className="lw-aside">{leadWords.noDrafts}</p>
        ) : (
          <ul className="desk-list">
            {drafts.map((draft) => (
              <DraftRow key={draft.id} draft={draft} act={act} />
            ))}
          </ul>
        )}
        <BeginProtocol act={act} />
      </Section>
      <Waiting act={act} />
      <Section title={leadWords.protocols} lede={leadWords.protocolsLede}>
        <ul className="desk-list">
          {entries.map((entry) => (
            <ProtocolRow key={entry.protocol.id} entry={entry} act={act} />
          ))}
        </ul>
      </Section>
      <More />
    </Frame>
  );
}

function Refused() {
  const refused = useLead((s) => s.refused);
  return refused.map(({ id, approvedHash, storedHash }) => (
    <Banner
      key={id}
      tone="broken"
      words={leadWords.refusedStored}
      advice={leadWords.refusedStoredMore({
        id,
        was: shortHash(approvedHash),
        is: shortHash(storedHash),
      })}
    />
  ));
}

/** Revisions that another tablet's lead confirmed, as a backup told; this one's has not. */
function Waiting({ act }: { readonly act: Act }) {
  const desk = useLeadDesk();
  const times = useTimes();
  const [, navigate] = useLocation();
  const waiting = useLead((s) => s.revisions).filter((r) => r.elsewhere !== null);
  if (waiting.length === 0) return null;
  const begin = async (protocol: Protocol): Promise<void> => {
    const id = await act(desk.beginDraft(protocol));
    if (id !== null) navigate(`/lead/draft/${id}`);
  };
  return (
    <Section title={leadWords.waiting} lede={leadWords.waitingLede}>
      <ul className="desk-list">
        {waiting.map(({ protocol, hash, elsewhere }) => (
          <li key={hash} className="desk-row">
            <div>
              <h3>{protocol.title}</h3>
              <p className="standing">
                <StateMark shape="part" />
                <span>{protocolWords.revision(protocol.revision)}</span>
                <span>
                  {leadWords.waitingLine({
                    by: elsewhere?.by ?? '',
                    on: times.moment(elsewhere?.onWallMs ?? 0),
                    hash: shortHash(hash),
                  })}
                </span>
              </p>
            </div>
            <ButtonRow>
              <Button
                name={leadWords.draftName(protocol.title)}
                onPress={() => void begin(protocol)}
              >
                {leadWords.draft}
              </Button>
              <Link
                className="lw-way"
                href={historyOf(protocol.id, hash, 'with')}
                aria-label={historyWords.compareName(protocol.title)}
              >
                {historyWords.compare}
              </Link>
            </ButtonRow>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function DraftRow({ draft, act }: { readonly draft: ProtocolDraft; readonly act: Act }) {
  const desk = useLeadDesk();
  const { protocol, done } = draft.history;
  const times = useTimes();
  const begun = { by: draft.begunBy, on: times.moment(draft.begunWallMs) };
  const { lines } = useCameIn()(draft);
  const exportIt = async (): Promise<void> => {
    const text = await act(desk.exportText(protocol));
    if (text === null) return;
    saveFile({ name: `${protocol.id}-draft.json`, type: 'application/json', content: text });
  };
  return (
    <li className="desk-row">
      <div>
        <h3>
          <Link href={`/lead/draft/${draft.id}`}>{protocol.title}</Link>
        </h3>
        <p className="standing">
          <StateMark shape="part" />
          <span>{leadWords.begun(begun)}</span>
          {draft.origin === 'import' && <span>{leadWords.fromFile}</span>}
          <span>{leadWords.edits(done)}</span>
          <span>{leadWords.toConfirm(unconfirmedFigures(protocol).length)}</span>
        </p>
        {lines.length > 0 && (
          <ul className="came-in">
            {lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
      </div>
      <ButtonRow>
        <Button name={leadWords.exportDraftName(protocol.title)} onPress={() => void exportIt()}>
          {leadWords.exportDo}
        </Button>
        <Button
          rank="quiet"
          name={leadWords.dropName(protocol.title)}
          onPress={() => void act(desk.dropDraft(draft.id))}
        >
          {leadWords.drop}
        </Button>
      </ButtonRow>
    </li>
  );
}

function ProtocolRow({ entry, act }: { readonly entry: ProtocolEntry; readonly act: Act }) {
  const desk = useLeadDesk();
  const [isRetiring, setRetiring] = useState(false);
  const { protocol, approval, hash } = entry;
  const times = useTimes();
  const { begin, exportIt } = useRevisionDeeds(entry, act);
  return (
    <li className="desk-row">
      <div>
        <h3>{protocol.title}</h3>
        <p className="standing">
          <StateMark shape={approval === null ? 'part' : 'full'} />
          <strong>{approval === null ? protocolWords.unconfirmed : protocolWords.confirmed}</strong>
          <span>{protocolWords.revision(protocol.revision)}</span>
          <span>{protocolWords.hash(shortHash(hash))}</span>
          {approval !== null && (
            <span>
              {protocolWords.confirmedWhat({
                by: approvers(approval),
                on: times.moment(approval.onWallMs),
              })}
            </span>
          )}
        </p>
        <CorrectionsLink protocol={protocol.id} />
      </div>
      <ButtonRow>
        <Button name={leadWords.draftName(protocol.title)} onPress={() => void begin()}>
          {leadWords.draft}
        </Button>
        <Button name={leadWords.exportName(protocol.title)} onPress={() => void exportIt()}>
          {leadWords.exportDo}
        </Button>
        <Link className="lw-way" href={`/protocols/${protocol.id}/card`}>
          {leadWords.card}
        </Link>
        <Link
          className="lw-way"
          href={historyOf(protocol.id)}
          aria-label={historyWords.linkName(protocol.title)}
        >
          {historyWords.link}
        </Link>
        {approval !== null && (
          <Button
            rank="quiet"
            name={leadWords.retireName(protocol.title)}
            onPress={() => setRetiring(true)}
          >
            {leadWords.retire}
          </Button>
        )}
      </ButtonRow>
      <Revisions act={act} protocolId={protocol.id} />
      <RetireSheet
        open={isRetiring}
        onClose={() => setRetiring(false)}
        onRetire={(reason) => void act(desk.retire(protocol, reason))}
      />
    </li>
  );
}

function RetireSheet(props: {
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onRetire: (reason: string) => void;
}) {
  const [reason, setReason] = useState('');
  const { body, tries, fail } = useFirstFault<HTMLDivElement>();
  const isMissing = reason.trim() === '';
  return (
    <Sheet
      open={props.open}
      title={leadWords.retireTitle}
      onClose={props.onClose}
      foot={
        <Button
          rank="grave"
          onPress={() => {
            if (isMissing) return fail();
            props.onRetire(reason);
            props.onClose();
          }}
        >
          {leadWords.retire}
        </Button>
      }
    >
      <p className="desk-lede">{leadWords.retireLede}</p>
      <div ref={body}>
        <TextField
          label={leadWords.retireReason}
          value={reason}
          onChange={setReason}
          problem={tries > 0 && isMissing ? leadWords.problems.noReason : undefined}
        />
      </div>
    </Sheet>
  );
}

function Revisions({ protocolId, act }: { readonly protocolId: string; readonly act: Act }) {
  const desk = useLeadDesk();
  const all = useLead((s) => s.revisions);
  const times = useTimes();
  const own = all.filter((revision) => revision.protocol.id === protocolId);
  if (own.length === 0) return null;
  const numbers = new Set(own.map(({ protocol }) => protocol.revision));
  return (
    <Disclosure summary={leadWords.revisionsOf(own.length)}>
      {numbers.size < own.length && <p className="lw-aside">{leadWords.sameNumber}</p>}
      <Table
        caption={leadWords.revisions}
        captionUnseen
        rows={own}
        rowId={(row) => row.hash}
        columns={[
          {
            id: 'revision',
            label: leadWords.revision,
            heads: true,
            cell: (row) => row.protocol.revision,
          },
          { id: 'standing', label: leadWords.standing, cell: standingWords },
          {
            id: 'by',
            label: leadWords.confirmedBy,
            cell: ({ approval }) =>
              approval === null
                ? ''
                : leadWords.confirmed({
                    by: approvers(approval),
                    on: times.moment(approval.onWallMs),
                  }),
          },
          {
            id: 'hash',
            label: leadWords.hash,
            cell: (row) => <code className="desk-hash">{row.hash}</code>,
          },
          {
            id: 'back',
            label: leadWords.bringBack,
            cell: (row) =>
              row.retirement !== null &&
              row.approval !== null && (
                <Button
                  rank="quiet"
                  name={leadWords.bringBackName(row.protocol.revision)}
                  onPress={() => void act(desk.bringBack(row))}
                >
                  {leadWords.bringBack}
                </Button>
              ),
          },
        ]}
      />
    </Disclosure>
  );
}

function More() {
  const places = [
    { href: SHEETS, title: leadWords.sheets, lede: leadWords.sheetsLede },
    { href: RECALLS, title: recallWords.title, lede: recallWords.lede },
    { href: OTHER_CLINICS, title: leadWords.otherClinics, lede: leadWords.otherClinicsLede },
    { href: OWN_TIMES, title: leadWords.ownTimes, lede: leadWords.ownTimesLede },
    { href: '/lead/log', title: leadWords.log, lede: leadWords.logLede },
  ];
  return (
    <Section title={leadWords.more}>
      <SecondPerson />
      <DrillsSign />
      <ul className="desk-list">
        {places.map((place) => (
          <li key={place.href} className="desk-row">
            <div>
              <h3>
                <Link href={place.href}>{place.title}</Link>
              </h3>
              <p className="lw-aside">{place.lede}</p>
            </div>
          </li>
        ))}
      </ul>
    </Section>
  );
}
