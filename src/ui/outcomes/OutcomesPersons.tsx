import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import type { Problem } from '../../base/problem.ts';
import { hasAgreed } from '../../outcomes/agreements.ts';
import { GATES } from '../../outcomes/figures/gates.ts';
import { NOT_NAMED, type PersonsMissing } from '../../outcomes/model/outcomes-types.ts';
import type { LeadDesk } from '../../runtime/lead/lead.ts';
import { leadProblemWords, leadWords } from '../../words/lead-words.ts';
import { flagWords, outcomeWords, shareWords } from '../../words/outcome-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { useSession } from '../shared/session-context.ts';
import { useDeskHours } from '../shared/use-desk-hours.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { Grouping } from './OutcomesGroups.tsx';
import type { PartProps } from './part-props.ts';

interface PersonsProps extends PartProps {
  /** Told while the desk is open here. */
  readonly onLead: (isOpen: boolean) => void;
}

/** Figures by person: off until the lead opens it, and then only where people agreed and there is enough to tell. */
export function OutcomesPersons(props: PersonsProps) {
  const [isWanted, setWanted] = useState(false);
  const endPoint = outcomeWords.endPoints[props.model.endPoint].toLowerCase();
  return (
    <Section title={`${flagWords.personsTitle}: ${endPoint}`} lede={flagWords.personsLede}>
      {isWanted ? (
        <Desk {...props} onClose={() => setWanted(false)} />
      ) : (
        <ButtonRow>
          <Button onPress={() => setWanted(true)}>{flagWords.personsOpen}</Button>
        </ButtonRow>
      )}
    </Section>
  );
}

type DeskProps = PersonsProps & { readonly onClose: () => void };

function Desk(props: DeskProps) {
  const session = useSession();
  const desk = useLoaded(async () => {
    const opened = await session.lead();
    if (!opened.state.getState().isRead) await opened.refresh();
    return opened;
  }, [session]);
  return desk.state === 'loaded' ? <AtDesk {...props} desk={desk.value} /> : null;
}

function AtDesk({ desk, onClose, onLead, ...props }: DeskProps & { readonly desk: LeadDesk }) {
  useDeskHours(desk);
  const isOpen = useStore(desk.state, (s) => s.isOpen);
  const keeper = useStore(desk.state, (s) => s.keeper);
  useEffect(() => {
    onLead(isOpen);
    return () => onLead(false);
  }, [isOpen, onLead]);
  if (keeper === null) return <p>{flagWords.personsNoPassphrase}</p>;
  return (
    <>
      {!isOpen && <Passphrase desk={desk} />}
      <ButtonRow>
        <Button onPress={onClose}>{flagWords.personsClose}</Button>
      </ButtonRow>
      {isOpen && <Persons {...props} />}
    </>
  );
}

function Passphrase({ desk }: { readonly desk: LeadDesk }) {
  const [passphrase, setPassphrase] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Problem | null>(null);
  const open = async (): Promise<void> => {
    setBusy(true);
    const opened = await desk.open(passphrase);
    setBusy(false);
    setRefused(opened.ok ? null : opened.error);
  };
  return (
    <form
      className="outcomes-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isBusy) void open();
      }}
    >
      <TextField
        label={flagWords.personsPassphrase}
        type="password"
        autoComplete="current-password"
        value={passphrase}
        problem={refused === null ? undefined : leadProblemWords(refused)}
        onChange={setPassphrase}
      />
      <ButtonRow>
        <Button type="submit" disabled={isBusy}>
          {isBusy ? leadWords.opening : leadWords.open}
        </Button>
      </ButtonRow>
    </form>
  );
}

function Persons({ model, read, isExample }: PartProps) {
  const { persons } = model;
  const { agreed } = read.state.reviews;
  // Somebody who withdraws is gone before the figures are worked out anew.
  const isStale =
    persons?.isOpen === true &&
    !persons.grouping.groups.every(
      ({ name }) => name === NOT_NAMED || hasAgreed(agreed, { person: name, to: 'own-figures' }),
    );
  if (persons === null || isStale) return <p role="status">{outcomeWords.working}</p>;
  return (
    <>
      <ul className="outcomes-lines">
        <li>{flagWords.personsOrder}</li>
        <li>{flagWords.ownRisk}</li>
        <li>{flagWords.personsRisk}</li>
      </ul>
      {persons.isOpen ? (
        <Grouping grouping={persons.grouping} model={model} isExample={isExample} />
      ) : (
        <div className="outcomes-few">
          <p>
            <StateMark shape="part" /> {flagWords.personsShut}
          </p>
          <ul>
            {persons.missing.map((each) => (
              <li key={each}>{missingWords(each)}</li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}

function missingWords(missing: PersonsMissing): string {
  const words = flagWords.personsMissing;
  switch (missing) {
    case 'one-person':
    case 'agreement':
    case 'test':
      return words[missing]();
    case 'completeness':
    case 'completenessApart':
      return words[missing](shareWords(GATES[missing]));
    default:
      return words[missing](String(GATES[missing]));
  }
}
