import { useState } from 'react';
import { Link } from 'wouter';
import { ok } from '../../../base/result.ts';
import type { SharingState } from '../../../runtime/sharing/sharing-state.ts';
import type { Times } from '../../../words/date-words.ts';
import { sharingCodeWords, sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Facts } from '../../parts/Facts.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { useIsRunning, useTablet, useTimes } from '../../shared/session-context.ts';
import { givenFaultWords } from './form-faults.ts';
import { PairingSteps } from './PairingSteps.tsx';
import { TabletsBox } from './TabletsBox.tsx';
import { TabletsForm } from './TabletsForm.tsx';
import { TabletsLeave } from './TabletsLeave.tsx';
import { TabletsList } from './TabletsList.tsx';
import { nameOf } from './tablet-names.ts';
import { usePairing } from './use-pairing.ts';
import { useShared, useSharing } from './use-sharing.ts';

/** So many messages take long enough that a backup is worth fetching. */
const MANY_MESSAGES = 2000;

/** A tablet that takes part: how far it agrees with the store, and the others. */
export function TabletsPaired() {
  return (
    <>
      <Told />
      <CatchUp />
      <div className="tablets-parts">
        <Own />
        <Invite />
      </div>
      <TabletsList />
      <Refused />
      <TabletsBox />
      <TabletsLeave />
    </>
  );
}

/** What speaks against relying on the store. */
function Told() {
  const problem = useShared((s) => s.problem);
  const isDemo = useShared((s) => s.isDemo);
  const wentBackAtWallMs = useShared((s) => s.wentBackAtWallMs);
  const times = useTimes();
  const { wallNowMs } = useTablet();
  return (
    <>
      {isDemo && (
        <Banner tone="attention" words={sharingWords.demo} advice={sharingWords.demoTodo} />
      )}
      {problem !== null && <Banner tone="attention" words={sharingCodeWords(problem)} />}
      {wentBackAtWallMs !== null && (
        <Banner
          tone="attention"
          words={sharingWords.wentBack(times.whenInLine(wentBackAtWallMs, { nowMs: wallNowMs() }))}
          advice={sharingWords.wentBackTodo}
        />
      )}
    </>
  );
}

function CatchUp() {
  const catchUp = useShared((s) => s.catchUp);
  const isFirst = useShared((s) => s.sharedAtWallMs === null);
  if (catchUp === null) return null;
  const { done, of } = catchUp;
  return (
    <Section title={sharingWords.reading} lede={sharingWords.readingLede}>
      <label className="tablets-progress">
        <span>{sharingWords.readingOf(catchUp)}</span>
        <progress max={Math.max(1, of)} value={Math.min(done, of)} />
      </label>
      {isFirst && of - done >= MANY_MESSAGES && (
        <p>
          <Link href="/backup">{sharingWords.restoreFirst}</Link> {sharingWords.restoreFirstLede}
        </p>
      )}
    </Section>
  );
}

function sharedWords(
  { sharedAtWallMs, behindSinceWallMs }: SharingState,
  o: { readonly times: Times; readonly nowMs: number },
): string {
  if (sharedAtWallMs === null) return sharingWords.sharedNever;
  if (behindSinceWallMs === null) {
    return sharingWords.sharedAt(o.times.whenInLine(sharedAtWallMs, o));
  }
  return sharingWords.behindSince(o.times.whenInLine(behindSinceWallMs, o));
}

function Own() {
  const sharing = useSharing();
  const state = useShared((s) => s);
  const times = useTimes();
  const nowMs = useTablet().wallNowMs();
  const { ownFacts } = sharingWords;
  const owed = state.owed === 0 ? sharingWords.owedNone : sharingWords.owed(state.owed);
  return (
    <Section title={sharingWords.own}>
      <Facts
        facts={[
          { id: 'name', label: ownFacts.name, value: state.name },
          { id: 'line', label: ownFacts.line, value: sharingWords.lines[state.line] },
          { id: 'shared', label: ownFacts.shared, value: sharedWords(state, { times, nowMs }) },
          { id: 'owed', label: ownFacts.owed, value: owed },
        ]}
      />
      <div>
        <Button onPress={() => sharing.now()}>{sharingWords.now}</Button>
      </div>
    </Section>
  );
}

function Invite() {
  const sharing = useSharing();
  const { pairing, begin, end } = usePairing();
  const [passphrase, setPassphrase] = useState('');
  const [isTried, setTried] = useState(false);
  const isRunning = useIsRunning();
  const fault = givenFaultWords(passphrase);
  if (pairing !== null) return <PairingSteps pairing={pairing} onEnd={end} />;
  const send = async () => {
    const invited = await sharing.invite({ passphrase });
    if (!invited.ok) return invited;
    setPassphrase('');
    setTried(false);
    begin(invited.value);
    return ok(null);
  };
  return (
    <Section title={sharingWords.invite} lede={sharingWords.inviteLede}>
      {isRunning ? (
        <p>{sharingWords.running}</p>
      ) : (
        <TabletsForm
          send={sharingWords.inviteDo}
          rank="plain"
          isRight={fault === undefined}
          onTry={() => setTried(true)}
          onSend={send}
        >
          <TextField
            label={sharingWords.passphrase}
            type="password"
            autoComplete="current-password"
            value={passphrase}
            onChange={setPassphrase}
            problem={isTried ? fault : undefined}
          />
        </TabletsForm>
      )}
    </Section>
  );
}

/** What lies in the store and does not hold, by the tablet that it names. */
function Refused() {
  const refused = useShared((s) => s.refused);
  const tablets = useShared((s) => s.tablets);
  if (refused.length === 0) return null;
  return (
    <Section title={sharingWords.refused} lede={sharingWords.refusedLede}>
      <ul className="tablets-lines">
        {refused.map(({ code, device, count }) => (
          <li key={`${code} ${device}`}>
            {sharingWords.refusedRows[code]({ count, name: nameOf(tablets, device) })}
          </li>
        ))}
      </ul>
    </Section>
  );
}
