import { instantOf } from '../../words/date-words.ts';
import { protocolOption, setUpWords } from '../../words/set-up-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { ProtocolLanguage } from '../shared/ProtocolLanguage.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import type { DraftPartProps } from './set-up-drafts.ts';

function useProtocolOptions(present: string) {
  const protocols = useApp((s) => s.protocols);
  const options = protocols.map(({ protocol, approval }) => ({
    value: protocol.id,
    label: protocolOption({ title: toldProtocol(protocol).title, isConfirmed: approval !== null }),
  }));
  if (present === '') return [{ value: '', label: setUpWords.protocolToChoose }, ...options];
  const isKnown = options.some((o) => o.value === present);
  return isKnown
    ? options
    : [{ value: present, label: setUpWords.protocolGone(present) }, ...options];
}

/** Chart reference, title, date, and the protocol it will run on. */
export function SetUpCase({ draft, change, problemAt }: DraftPartProps) {
  const options = useProtocolOptions(draft.protocol);
  const entry = useApp((s) => s.protocols.find((p) => p.protocol.id === draft.protocol));
  const times = useTimes();
  const at = draft.date !== '' && draft.time !== '' ? instantOf(times.isoOf(draft)) : null;
  const read =
    at === null
      ? setUpWords.whenReadNone
      : setUpWords.whenRead({ day: times.day(at), time: times.time(at) });
  return (
    <Section title={setUpWords.theCase}>
      <div className="set-up-fields">
        <TextField
          label={setUpWords.chartRef}
          hint={setUpWords.chartRefHint}
          value={draft.chartRef}
          onChange={(chartRef) => change({ ...draft, chartRef })}
          problem={problemAt('case.chartRef')}
        />
        <TextField
          label={setUpWords.caseTitle}
          hint={setUpWords.caseTitleHint}
          value={draft.title}
          onChange={(title) => change({ ...draft, title })}
          problem={problemAt('case.title')}
        />
        <TextField
          label={setUpWords.date}
          type="date"
          readBack={read}
          value={draft.date}
          onChange={(date) => change({ ...draft, date })}
          problem={problemAt('case.scheduledFor')}
        />
        <TextField
          label={setUpWords.time}
          type="time"
          value={draft.time}
          onChange={(time) => change({ ...draft, time })}
        />
      </div>
      <SelectField
        label={setUpWords.protocol}
        hint={setUpWords.protocolHint}
        value={draft.protocol}
        options={options}
        onChange={(protocol) => change({ ...draft, protocol })}
        problem={problemAt('case.protocol')}
      />
      {entry !== undefined && <ProtocolLanguage protocol={entry.protocol} />}
    </Section>
  );
}
