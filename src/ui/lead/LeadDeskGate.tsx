import { type ReactNode, useState } from 'react';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { leadProblemWords, leadWords } from '../../words/lead-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Frame } from '../shared/Frame.tsx';
import { NewPassphraseFields, useNewPassphrase } from '../shared/NewPassphrase.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import { useLead, useLeadDesk } from './use-lead.ts';

/** A form that does one slow thing at a time and says in one line why it did not work. */
function GateForm(props: {
  readonly onSend: () => Promise<Result<null, Problem>>;
  readonly send: string;
  readonly blocked?: string | undefined;
  readonly children: ReactNode;
}) {
  const [isBusy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  const send = async (): Promise<void> => {
    setBusy(true);
    const sent = await props.onSend();
    setBusy(false);
    setRefused(sent.ok ? null : sent.error);
  };
  return (
    <form
      className="desk-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isBusy && props.blocked === undefined) void send();
      }}
    >
      {props.children}
      <p className="desk-problem" role="status">
        {isBusy ? leadWords.opening : refused ? leadProblemWords(refused) : (props.blocked ?? '')}
      </p>
      <Button type="submit" rank="main" disabled={isBusy || props.blocked !== undefined}>
        {props.send}
      </Button>
    </form>
  );
}

function NewPassphrase(props: { readonly isReset: boolean }) {
  const desk = useLeadDesk();
  const [person, setPerson] = useState('');
  const chosen = useNewPassphrase();
  const [reason, setReason] = useState('');
  const { passphrase, again, isOther } = chosen;
  const set = () =>
    props.isReset
      ? desk.resetPassphrase({ person, passphrase, reason })
      : desk.setPassphrase({ person, passphrase });
  return (
    <GateForm
      send={props.isReset ? leadWords.reset : leadWords.set}
      onSend={set}
      blocked={isOther ? leadWords.notSame : again === '' ? '' : undefined}
    >
      <TextField
        label={leadWords.person}
        hint={leadWords.personHint}
        value={person}
        onChange={setPerson}
      />
      <PeopleChoices named={[person]} onChoose={({ name }) => setPerson(name)} />
      {props.isReset && <TextField label={leadWords.reason} value={reason} onChange={setReason} />}
      <NewPassphraseFields
        chosen={chosen}
        words={{
          passphrase: leadWords.passphrase,
          hint: leadWords.passphraseHint,
          again: leadWords.again,
          other: leadWords.notSame,
        }}
      />
    </GateForm>
  );
}

function OpenForm({ keeper }: { readonly keeper: string }) {
  const desk = useLeadDesk();
  const [passphrase, setPassphrase] = useState('');
  return (
    <>
      <Section title={leadWords.openTitle} lede={leadWords.openLede(keeper)}>
        <GateForm send={leadWords.open} onSend={() => desk.open(passphrase)}>
          <TextField
            label={leadWords.passphrase}
            type="password"
            autoComplete="current-password"
            value={passphrase}
            onChange={setPassphrase}
          />
        </GateForm>
      </Section>
      <Disclosure summary={leadWords.forgotten}>
        <p className="desk-lede">{leadWords.forgottenLede}</p>
        <NewPassphrase isReset />
      </Disclosure>
    </>
  );
}

/** The closed desk: set the first passphrase, give it, or replace a forgotten one. */
export function LeadDeskGate() {
  const keeper = useLead((s) => s.keeper);
  const canLock = useLead((s) => s.canLock);
  const because = useLead((s) => s.closedBecause);
  return (
    <Frame place="protocols" title={leadWords.title} lede={leadWords.lede} width="reading">
      {because === 'idle' && <Banner tone="plain" words={leadWords.closedIdle} />}
      {!canLock && (
        <Banner tone="attention" words={leadWords.noLock} advice={leadWords.noLockTodo} />
      )}
      {canLock && keeper === null && (
        <Section title={leadWords.firstTitle} lede={leadWords.firstLede}>
          <NewPassphrase isReset={false} />
        </Section>
      )}
      {canLock && keeper !== null && <OpenForm keeper={keeper} />}
    </Frame>
  );
}
