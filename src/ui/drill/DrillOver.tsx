import { useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { drillCardWords } from '../../words/drill-sight-words.ts';
import { drillWords } from '../../words/drill-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Button } from '../parts/Button.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useApp, useSession, useTablet } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { type DrillStanding, useDrill } from './use-drill.ts';
import './drill.css';

/** Where the case of a drill is seen. */
const SHOW_IT: ReadonlySet<string> = new Set(['/chair', '/far-view']);

/** Over the chair and the far view: what is seen, as a card and afterwards as a line; and the end of the drill. */
export function DrillOver() {
  const running = useApp((s) => s.running);
  if (running?.log.state.opened.drill === undefined) return null;
  return <Over key={running.caseId} running={running} />;
}

function Over({ running }: { readonly running: RunningCase }) {
  const [path] = useLocation();
  const { drill, askAgain } = useDrill(running);
  const { end, isLost } = useEnd(running, drill);
  const [seen, setSeen] = useState<string | null>(null);
  const [again, setAgain] = useState<string | null>(null);
  const isFar = path === '/far-view';
  if (!SHOW_IT.has(path)) return null;
  const standing = drill === 'loading' || drill === 'failed' ? null : drill;
  const last = standing?.shown.at(-1) ?? null;
  const isAway = last !== null && isKeptAway(last, standing);
  const isFresh =
    last !== null &&
    (isAway ||
      (last.card.kind !== 'interruption' &&
        seen !== last.card.id &&
        standing?.isPressedSince(last.shownAtMs) === false));
  const isUp = last !== null && (isFresh || again === last.card.id);
  const words = last === null ? null : drillCardWords(last.card, namingOf(running).spec);
  const leftMs =
    last?.card.kind === 'interruption' && standing !== null
      ? last.shownAtMs + last.card.awayMs - standing.nowMs
      : 0;
  const away = leftMs > 0 ? drillWords.awayLeft(Math.ceil(leftMs / 1000)) : null;
  return (
    <aside className="drill-line lw-screen-only" aria-label={drillWords.place} data-far={isFar}>
      <strong className="drill-mark">{drillWords.mark}</strong>
      {words !== null && !isUp && !isFar && (
        <button
          type="button"
          className="drill-last"
          aria-label={`${drillWords.cardAgain}: ${words}`}
          onClick={() => setAgain(last?.card.id ?? null)}
        >
          {words}
        </button>
      )}
      {words !== null && !isUp && isFar && <p className="drill-last">{words}</p>}
      {words === null && <p className="drill-last">{NOTHING_SHOWN[standingOf(drill)]()}</p>}
      {drill === 'failed' && (
        <Button size="chair" onPress={askAgain}>
          {drillWords.askAgain}
        </Button>
      )}
      {isLost && <p role="alert">{drillWords.notEnded}</p>}
      {!running.isViewOnly && (
        <Button size="chair" onPress={() => void end()}>
          {drillWords.end}
        </Button>
      )}
      {isUp && last !== null && words !== null && (
        <Card
          key={`${last.card.id} ${isFresh}`}
          running={running}
          card={last.card}
          words={words}
          away={away}
          isFar={isFar}
          onSeen={() => {
            setSeen(last.card.id);
            setAgain(null);
          }}
        />
      )}
    </aside>
  );
}

type Asked = ReturnType<typeof useDrill>['drill'];
type Shown = DrillStanding['shown'][number];

function standingOf(drill: Asked): 'running' | 'loading' | 'failed' | 'other' {
  if (drill === null) return 'other';
  return drill === 'failed' || drill === 'loading' ? drill : 'running';
}

/** What stands there while no card does. */
const NOTHING_SHOWN = {
  running: () => drillWords.nothingYet,
  loading: () => drillWords.workingOut,
  failed: () => drillWords.notWorkedOut,
  other: () => drillWords.drawnOtherwise,
} as const;

const isKeptAway = ({ card, shownAtMs }: Shown, standing: DrillStanding | null): boolean =>
  card.kind === 'interruption' && standing !== null && standing.nowMs < shownAtMs + card.awayMs;

/** Ends the drill: by itself when its time is over or the case was signed, or by one press. */
function useEnd(running: RunningCase, drill: Asked) {
  const session = useSession();
  const [path, navigate] = useLocation();
  // Ending takes a moment, in which people may go elsewhere.
  const pathNow = useRef(path);
  pathNow.current = path;
  const isEnding = useRef(false);
  const [isLost, setLost] = useState(false);
  const { caseId, isViewOnly, log } = running;
  const end = async (): Promise<void> => {
    if (isEnding.current || isViewOnly) return;
    isEnding.current = true;
    const ended = await (await session.drills()).end().catch(() => null);
    isEnding.current = false;
    if (ended?.ok !== true) setLost(true);
    // Who reads something else meanwhile is not taken away from it.
    else if (SHOW_IT.has(pathNow.current)) navigate(`/drill/${caseId}`);
  };
  const isOver =
    log.state.closed !== null ||
    (drill !== null && typeof drill === 'object' && drill.nowMs >= drill.endsAtMs);
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is ended once, when it is over.
  useEffect(() => {
    if (isOver && !isViewOnly) void end();
  }, [isOver, isViewOnly]);
  return { end, isLost };
}

function Card(o: {
  readonly running: RunningCase;
  readonly card: Shown['card'];
  readonly words: string;
  readonly away: string | null;
  readonly isFar: boolean;
  readonly onSeen: () => void;
}) {
  const { card, words } = o;
  const session = useSession();
  const tablet = useTablet();
  const met = useLoaded(async () => (await session.drills()).met(), [session]);
  const isNew = card.kind === 'mishap' && met.value?.has(card.mishap) === false;
  const isSpoken = !o.running.isViewOnly;
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is said once, when it comes.
  useEffect(() => {
    if (isSpoken) tablet.say?.(words);
  }, [words]);
  return (
    <div className="drill-card" role="alert" data-far={o.isFar} data-card={card.id}>
      <p className="drill-card-head">{drillWords.card}</p>
      <p className="drill-card-words">{words}</p>
      {isNew && card.kind === 'mishap' && (
        <p className="drill-card-name">{drillWords.named(protocolWords.mishaps[card.mishap])}</p>
      )}
      {o.isFar && <p className="drill-card-name">{drillWords.readOut}</p>}
      {card.kind === 'interruption' ? (
        <p className="drill-card-away" aria-live="off">
          {o.away ?? drillWords.awayOver}
        </p>
      ) : null}
      {!o.isFar && (card.kind !== 'interruption' || o.away === null) && (
        <Button size="chair" onPress={o.onSeen}>
          {drillWords.taken}
        </Button>
      )}
    </div>
  );
}
