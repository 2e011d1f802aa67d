import { useState } from 'react';
import { Link } from 'wouter';
import { ok } from '../../../base/result.ts';
import type { Pairing } from '../../../runtime/sharing/sharing-state.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { useApp, useIsRunning } from '../../shared/session-context.ts';
import { CodeField } from './CodeField.tsx';
import { codeCharacters, inGroups } from './code-entry.ts';
import { codeFaultWords, givenFaultWords, nameFaultWords } from './form-faults.ts';
import { PairingSteps } from './PairingSteps.tsx';
import { TabletsForm } from './TabletsForm.tsx';
import { TabletsFound } from './TabletsFound.tsx';
import { usePairing } from './use-pairing.ts';
import { useSharing } from './use-sharing.ts';

/** A tablet that belongs to no clinic of several: what sharing is, and the ways in. */
export function TabletsAlone() {
  const { pairing, begin, end } = usePairing();
  const [isFounding, setFounding] = useState(false);
  // A code that was typed wrong is set right, not typed anew.
  const [typed, setTyped] = useState<Typed>({ code: '', name: '' });
  const isRunning = useIsRunning();
  if (isFounding) return <TabletsFound onLeave={() => setFounding(false)} />;
  if (pairing !== null) {
    return (
      <PairingSteps
        pairing={pairing}
        onEnd={end}
        onFounds={() => {
          setFounding(true);
          end();
        }}
      />
    );
  }
  return (
    <>
      <Section title={sharingWords.alone}>
        <ul className="tablets-lines">
          {sharingWords.aloneLines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Section>
      {isRunning ? (
        <Banner tone="plain" words={sharingWords.running} advice={sharingWords.runningTodo} />
      ) : (
        <>
          <Join typed={typed} onType={setTyped} onBegun={begin} />
          <Disclosure summary={sharingWords.recover}>
            <Recover />
          </Disclosure>
        </>
      )}
    </>
  );
}

interface Typed {
  readonly code: string;
  readonly name: string;
}

function Join(o: {
  readonly typed: Typed;
  readonly onType: (typed: Typed) => void;
  readonly onBegun: (pairing: Pairing) => void;
}) {
  const sharing = useSharing();
  const cases = useApp((s) => s.cases.length);
  const { code, name } = o.typed;
  const [isTried, setTried] = useState(false);
  const faults = { code: codeFaultWords(code), name: nameFaultWords(name) };
  const send = async () => {
    const grouped = inGroups(codeCharacters(code)).replaceAll(' ', '-');
    const joined = await sharing.join({ code: grouped, name: name.trim() });
    if (!joined.ok) return joined;
    o.onBegun(joined.value);
    return ok(null);
  };
  return (
    <Section title={sharingWords.join} lede={sharingWords.joinLede}>
      {cases === 0 && (
        <p>
          <Link href="/backup">{sharingWords.restoreFirst}</Link> {sharingWords.restoreFirstLede}
        </p>
      )}
      <TabletsForm
        send={sharingWords.joinDo}
        isRight={faults.code === undefined && faults.name === undefined}
        onTry={() => setTried(true)}
        onSend={send}
      >
        <CodeField
          value={code}
          onChange={(next) => o.onType({ code: next, name })}
          problem={isTried ? faults.code : undefined}
        />
        <TextField
          label={sharingWords.name}
          hint={sharingWords.nameHint}
          value={name}
          onChange={(next) => o.onType({ code, name: next })}
          problem={isTried ? faults.name : undefined}
        />
      </TabletsForm>
    </Section>
  );
}

function Recover() {
  const sharing = useSharing();
  const [boxText, setBoxText] = useState('');
  const [passphrase, setPassphrase] = useState('');
  const [name, setName] = useState('');
  const [isTried, setTried] = useState(false);
  const faults = { passphrase: givenFaultWords(passphrase), name: nameFaultWords(name) };
  const send = () => {
    const typed = boxText.trim();
    return sharing.recover({ boxText: typed === '' ? null : typed, passphrase, name: name.trim() });
  };
  return (
    <>
      <p className="tablets-lede">{sharingWords.recoverLede}</p>
      <TabletsForm
        send={sharingWords.recoverDo}
        rank="plain"
        isRight={faults.passphrase === undefined && faults.name === undefined}
        onTry={() => setTried(true)}
        onSend={send}
      >
        <TextField
          label={sharingWords.boxText}
          hint={sharingWords.boxTextHint}
          lines={6}
          value={boxText}
          onChange={setBoxText}
        />
        <TextField
          label={sharingWords.passphrase}
          type="password"
          autoComplete="current-password"
          value={passphrase}
          onChange={setPassphrase}
          problem={isTried ? faults.passphrase : undefined}
        />
        <TextField
          label={sharingWords.name}
          hint={sharingWords.nameHint}
          value={name}
          onChange={setName}
          problem={isTried ? faults.name : undefined}
        />
      </TabletsForm>
    </>
  );
}
