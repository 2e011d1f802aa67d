import { saveFile } from '../../runtime/cases/share.ts';
import { type LeadLog, leadLogText } from '../../runtime/lead/lead-log.ts';
import { deedWords, leadWords } from '../../words/lead-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Table } from '../parts/Table.tsx';
import { Frame } from '../shared/Frame.tsx';
import { shortHash } from '../shared/protocol-model.ts';
import { useTimes } from '../shared/session-context.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { useLead, useLeadDesk } from './use-lead.ts';

/** Everything that was done at the desk, newest first, and whether the chain holds. */
export function LeadDeskLog() {
  const desk = useLeadDesk();
  const log = useLead((s) => s.log);
  const others = useLead((s) => s.otherLogs);
  const times = useTimes();
  const save = (): void => {
    const name = `lead-log-${times.isoDay(desk.nowWallMs())}.json`;
    saveFile({ name, type: 'application/json', content: leadLogText(log) });
  };
  return (
    <Frame
      place="protocols"
      title={leadWords.log}
      lede={leadWords.logLede}
      actions={<LeadDeskActions />}
    >
      {log.broken === 0 ? (
        <Banner
          tone="plain"
          words={leadWords.logWhole}
          action={<Button onPress={save}>{leadWords.logExport}</Button>}
        />
      ) : (
        <Banner
          tone="broken"
          words={leadWords.logBroken(log.broken)}
          advice={leadWords.logBrokenMore}
          action={<Button onPress={save}>{leadWords.logExport}</Button>}
        />
      )}
      <Entries entries={log.entries} />
      {others.map((other) => (
        <Disclosure
          key={other.tablet}
          summary={leadWords.otherLog({
            tablet: other.tablet.slice(0, 8),
            entries: other.log.entries.length,
          })}
        >
          <p className="lw-aside">{leadWords.otherLogLede}</p>
          {other.log.broken > 0 && (
            <Banner tone="broken" words={leadWords.logBroken(other.log.broken)} />
          )}
          <Entries entries={other.log.entries} />
        </Disclosure>
      ))}
    </Frame>
  );
}

function Entries({ entries }: Pick<LeadLog, 'entries'>) {
  const times = useTimes();
  return (
    <Table
      caption={leadWords.log}
      captionUnseen
      rows={entries.toReversed()}
      rowId={(entry) => entry.hash}
      columns={[
        { id: 'when', label: leadWords.logWhen, cell: (e) => times.moment(e.atWallMs) },
        { id: 'what', label: leadWords.logWhat, heads: true, cell: deedWords },
        {
          id: 'who',
          label: leadWords.logWho,
          cell: (e) => (e.by === '' ? leadWords.nobody : e.by),
        },
        {
          id: 'hash',
          label: leadWords.logHash,
          cell: (e) => <code className="desk-hash">{shortHash(e.hash)}</code>,
        },
      ]}
    />
  );
}
