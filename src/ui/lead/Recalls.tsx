import { useState } from 'react';
import { Link } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { recallProblemWords, recallWords } from '../../words/recall-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useStock } from '../shared/materials-hooks.ts';
import { callsPlace } from '../shared/materials-model.ts';
import { useApp, useSession, useTimes } from '../shared/session-context.ts';
import { LeadDeskActions } from './LeadDeskActions.tsx';
import { lotsOfList, type RecalledLot, recalledLots } from './recalls-model.ts';
import { useLeadDesk } from './use-lead.ts';

/** Recall marks: made and removed here, with a reason. */
export function Recalls() {
  const materials = useStock((s) => s.materials);
  const [lost, setLost] = useState<string | null>(null);
  const recalls = useStock((s) => s.recalls);
  const marked = recalledLots({ materials, recalls });
  const tell = async (done: Promise<Result<null, Problem>>): Promise<boolean> => {
    const told = await done;
    setLost(told.ok ? null : recallProblemWords(told.error));
    return told.ok;
  };
  return (
    <Frame
      place="protocols"
      title={recallWords.title}
      lede={recallWords.lede}
      actions={<LeadDeskActions />}
    >
      {lost !== null && <Banner tone="attention" words={lost} />}
      {marked.length === 0 ? (
        <p className="lw-aside">{recallWords.none}</p>
      ) : (
        <ul className="desk-list">
          {marked.map((lot) => (
            <LotRow key={lot.lot} lot={lot} tell={tell} />
          ))}
        </ul>
      )}
      <MarkLot tell={tell} />
    </Frame>
  );
}

type Tell = (done: Promise<Result<null, Problem>>) => Promise<boolean>;

function LotRow({ lot: marked, tell }: { readonly lot: RecalledLot; readonly tell: Tell }) {
  const desk = useLeadDesk();
  const { stock } = useSession();
  const times = useTimes();
  const [isLifting, setLifting] = useState(false);
  const [reason, setReason] = useState('');
  const isReader = useApp((s) => s.standing !== 'writer');
  const { lot, labels, boxes, onWallMs } = marked;
  const lift = async (): Promise<void> => {
    if (await tell(desk.recalls.lift(stock, { lot, reason: reason.trim() }))) setLifting(false);
  };
  return (
    <li className="desk-row">
      <div>
        <h3>{`${recallWords.lot} ${lot}`}</h3>
        <p className="standing">
          <StateMark shape="broken" />
          <span>{recallWords.since({ on: times.moment(onWallMs), reason: marked.reason })}</span>
          <span>{labels.join(', ')}</span>
          <span>{recallWords.boxes(boxes)}</span>
        </p>
      </div>
      <ButtonRow>
        <Link className="lw-way" href={callsPlace(lot)} aria-label={recallWords.callsName(lot)}>
          {recallWords.calls}
        </Link>
        <Button
          rank="quiet"
          disabled={isReader}
          name={recallWords.liftName(lot)}
          onPress={() => setLifting(true)}
        >
          {recallWords.lift}
        </Button>
      </ButtonRow>
      <Sheet
        open={isLifting}
        title={recallWords.liftName(lot)}
        onClose={() => setLifting(false)}
        foot={
          <Button rank="grave" disabled={reason.trim() === ''} onPress={() => void lift()}>
            {recallWords.lift}
          </Button>
        }
      >
        <p>{recallWords.liftNote}</p>
        <TextField label={recallWords.liftReason} lines={2} value={reason} onChange={setReason} />
      </Sheet>
    </li>
  );
}

function MarkLot({ tell }: { readonly tell: Tell }) {
  const desk = useLeadDesk();
  const { stock } = useSession();
  const materials = useStock((s) => s.materials);
  const [lot, setLot] = useState('');
  const [reason, setReason] = useState('');
  const isReader = useApp((s) => s.standing !== 'writer');
  const found = lotsOfList(materials, lot);
  const isAsked = lot.trim() !== '';
  const mark = async (): Promise<void> => {
    const done = await tell(desk.recalls.mark(stock, { lot, reason: reason.trim() }));
    if (!done) return;
    setLot('');
    setReason('');
  };
  return (
    <Section title={recallWords.mark}>
      <div className="recall-mark">
        <TextField
          label={recallWords.lot}
          hint={recallWords.lotHint}
          readBack={found.length > 0 ? found.join(', ') : isAsked ? recallWords.noLot : undefined}
          value={lot}
          onChange={setLot}
        />
        <TextField label={recallWords.reason} lines={2} value={reason} onChange={setReason} />
        <ButtonRow>
          <Button
            rank="grave"
            disabled={isReader || !isAsked || reason.trim() === ''}
            onPress={() => void mark()}
          >
            {recallWords.markDo}
          </Button>
          {isAsked && (
            <Link className="lw-way" href={callsPlace(lot.trim())}>
              {recallWords.callsOf(lot.trim())}
            </Link>
          )}
        </ButtonRow>
      </div>
    </Section>
  );
}
