import { useState } from 'react';
import type { TabletRow } from '../../../runtime/sharing/sharing-state.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Button, ButtonRow } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { useTablet, useTimes } from '../../shared/session-context.ts';
import { givenFaultWords, nameFaultWords } from './form-faults.ts';
import { TabletsForm } from './TabletsForm.tsx';
import { useShared, useSharing } from './use-sharing.ts';

type Open = { readonly what: 'rename' | 'put-out'; readonly device: string } | null;

/** Put out, or another row by now. */
const isGone = ({ standing, isEarlier }: TabletRow): boolean =>
  standing === 'put-out' || isEarlier === true;

/** What a tablet is called now that has joined again. */
const nowCalled = (rows: readonly TabletRow[], row: TabletRow): string | undefined =>
  rows.find(
    (other) =>
      other.isEarlier !== true && (other.tablet ?? other.device) === (row.tablet ?? row.device),
  )?.name;

/** Every tablet of the clinic, this one first, those that are gone last. */
export function TabletsList() {
  const tablets = useShared((s) => s.tablets);
  const [open, setOpen] = useState<Open>(null);
  const rank = (row: TabletRow): number => (row.isThis ? 0 : isGone(row) ? 2 : 1);
  const rows = tablets.toSorted((a, b) => rank(a) - rank(b) || a.name.localeCompare(b.name));
  const row = tablets.find(({ device }) => device === open?.device);
  return (
    <Section title={sharingWords.list}>
      <ul className="tablets-list">
        {rows.map((each) => (
          <Row key={each.device} row={each} onOpen={setOpen} />
        ))}
      </ul>
      {row !== undefined && open?.what === 'rename' && (
        <Rename row={row} onClose={() => setOpen(null)} />
      )}
      {row !== undefined && open?.what === 'put-out' && (
        <PutOut row={row} onClose={() => setOpen(null)} />
      )}
    </Section>
  );
}

function Row(o: { readonly row: TabletRow; readonly onOpen: (open: Open) => void }) {
  const { row, onOpen } = o;
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const { device, name, lastContactWallMs, owes, runs } = row;
  const now = useShared((s) => (row.isEarlier === true ? nowCalled(s.tablets, row) : undefined));
  const isOut = row.standing === 'put-out';
  const isIn = !isOut && now === undefined;
  // Of a tablet that was not heard of nobody knows what runs there.
  const isHeard = row.isThis || lastContactWallMs !== null;
  const contact =
    lastContactWallMs === null
      ? sharingWords.neverHeard
      : sharingWords.lastContact(times.whenInLine(lastContactWallMs, { nowMs: wallNowMs() }));
  const owing =
    owes === null
      ? sharingWords.owesUnknown
      : owes === 0
        ? sharingWords.owesNone
        : sharingWords.owes(owes);
  return (
    <li className="tablets-row" data-out={isOut} aria-label={name}>
      <div>
        <h3>
          <StateMark shape={isIn ? (owes === 0 ? 'full' : 'part') : 'struck'} />
          {name}
          {row.isThis && <span className="lw-quiet">{sharingWords.isThis}</span>}
          {isOut && <strong>{sharingWords.isPutOut}</strong>}
        </h3>
        {now !== undefined && <p>{sharingWords.joinedAgain(now)}</p>}
        {!row.isThis && now === undefined && <p>{contact}</p>}
        {isIn && <p>{owing}</p>}
        {isIn && isHeard && (
          <p>{runs === null ? sharingWords.runsNone : sharingWords.runs(runs.title)}</p>
        )}
      </div>
      {!isOut && (
        <ButtonRow>
          {isIn && (
            <Button
              name={sharingWords.renameName(name)}
              onPress={() => onOpen({ what: 'rename', device })}
            >
              {sharingWords.rename}
            </Button>
          )}
          {!row.isThis && (
            <Button
              name={isIn ? sharingWords.putOutName(name) : sharingWords.putOutEarlierName(name)}
              onPress={() => onOpen({ what: 'put-out', device })}
            >
              {sharingWords.putOut}
            </Button>
          )}
        </ButtonRow>
      )}
    </li>
  );
}

interface RowSheetProps {
  readonly row: TabletRow;
  readonly onClose: () => void;
}

/** The lead's passphrase, as each sheet asks for it. */
function Passphrase(o: {
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly problem: string | undefined;
}) {
  return (
    <TextField
      label={sharingWords.passphrase}
      type="password"
      autoComplete="current-password"
      {...o}
    />
  );
}

function Rename({ row, onClose }: RowSheetProps) {
  const sharing = useSharing();
  const others = useShared((s) => s.tablets)
    .filter(({ device, standing }) => device !== row.device && standing === 'paired')
    .map(({ name: other }) => other);
  const [name, setName] = useState(row.name);
  const [passphrase, setPassphrase] = useState('');
  const [isTried, setTried] = useState(false);
  const faults = { name: nameFaultWords(name, others), passphrase: givenFaultWords(passphrase) };
  const send = async () => {
    const renamed = await sharing.rename({ device: row.device, name: name.trim(), passphrase });
    if (renamed.ok) onClose();
    return renamed;
  };
  return (
    <Sheet open title={sharingWords.renameTitle(row.name)} onClose={onClose}>
      <TabletsForm
        send={sharingWords.renameDo}
        isRight={faults.name === undefined && faults.passphrase === undefined}
        onTry={() => setTried(true)}
        onSend={send}
      >
        <TextField
          label={sharingWords.newName}
          value={name}
          onChange={setName}
          problem={isTried ? faults.name : undefined}
        />
        <Passphrase
          value={passphrase}
          onChange={setPassphrase}
          problem={isTried ? faults.passphrase : undefined}
        />
      </TabletsForm>
    </Sheet>
  );
}

function PutOut({ row, onClose }: RowSheetProps) {
  const sharing = useSharing();
  const [reason, setReason] = useState('');
  const [passphrase, setPassphrase] = useState('');
  const [isTried, setTried] = useState(false);
  const faults = {
    reason: reason.trim() === '' ? sharingWords.reasonFault : undefined,
    passphrase: givenFaultWords(passphrase),
  };
  const send = async () => {
    const { device } = row;
    const out = await sharing.putOut({ device, reason: reason.trim(), passphrase });
    if (out.ok) onClose();
    return out;
  };
  return (
    <Sheet
      open
      title={
        row.isEarlier === true
          ? sharingWords.putOutEarlierName(row.name)
          : sharingWords.putOutTitle(row.name)
      }
      onClose={onClose}
    >
      <ul className="tablets-lines">
        {sharingWords.putOutDoes.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {row.runs !== null && (
        <p>
          <strong>{sharingWords.putOutRuns(row.runs.title)}</strong>
        </p>
      )}
      <p>
        <strong>{sharingWords.putOutCannot}</strong>
      </p>
      <TabletsForm
        send={sharingWords.putOutDo}
        rank="grave"
        isRight={faults.reason === undefined && faults.passphrase === undefined}
        onTry={() => setTried(true)}
        onSend={send}
      >
        <TextField
          label={sharingWords.reason}
          hint={sharingWords.reasonHint}
          value={reason}
          onChange={setReason}
          problem={isTried ? faults.reason : undefined}
        />
        <Passphrase
          value={passphrase}
          onChange={setPassphrase}
          problem={isTried ? faults.passphrase : undefined}
        />
      </TabletsForm>
    </Sheet>
  );
}
