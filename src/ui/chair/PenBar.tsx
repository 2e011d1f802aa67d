import { useState } from 'react';
import { useLocation } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { penWords } from '../../words/pen-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { heardWords, penModel } from '../shared/pen-model.ts';
import { useApp, useSession } from '../shared/session-context.ts';
import { useWallNow } from '../shared/use-wall-now.ts';
import { PenTakeOver } from './PenTakeOver.tsx';
import './pen-bar.css';

/** Why a case was not taken, as far as people can do something about it. */
const adviceOn = (code: string): string =>
  code === 'patient-runs' ? penWords.refusedRuns : penWords.refusedElse;

/** Stands where the bar is, for a case that another tablet writes: whose it is, and the way to take it. */
export function PenBar({ running }: { readonly running: RunningCase }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const nowMs = useWallNow();
  const sharing = useApp((s) => s.sharing);
  const tablet = useApp((s) => s.settings.tablet);
  const isWriter = useApp((s) => s.standing === 'writer');
  const [isAsking, setIsAsking] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const { caseId } = running;
  const model = penModel(running, { tablet, sharing, nowMs });
  const take = async (reason?: string): Promise<void> => {
    const taken = await session.pens.take({ caseId, ...(reason && { reason }) });
    setIsAsking(false);
    setRefused(taken.ok ? null : taken.error.code);
  };
  const heard = heardWords(sharing, running.log.state.pen.holder, nowMs);
  return (
    <section className="chair-pen" aria-label={penWords.place}>
      <Banner tone="attention" words={model.words} advice={model.advice} />
      {refused !== null && (
        <Banner tone="broken" words={penWords.refused} advice={adviceOn(refused)} />
      )}
      <div className="chair-pen-ends">
        {isWriter && model.take !== null && (
          <Button
            size="chair"
            rank="main"
            onPress={() => (model.take === 'at-once' ? void take() : setIsAsking(true))}
          >
            {model.takeWords}
          </Button>
        )}
        <Button size="chair" onPress={() => navigate(`/record/${caseId}`)}>
          {penWords.toRecord}
        </Button>
        <Button
          size="chair"
          rank="quiet"
          onPress={() => {
            session.leaveChair();
            navigate('/');
          }}
        >
          {penWords.leave}
        </Button>
      </div>
      {isAsking && (
        <PenTakeOver
          name={model.name}
          lastContact={heard}
          onTake={(reason) => void take(reason)}
          onClose={() => setIsAsking(false)}
        />
      )}
    </section>
  );
}
