import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { farViewWords } from '../../words/far-view-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { useApp, useSession, useTablet } from '../shared/session-context.ts';
import { followModel, toFollow } from './far-view-model.ts';

type FollowModel = ReturnType<typeof followModel>;

/** What is not here yet, or could not be read, is asked for again this often, in ms. */
const AGAIN_MS = 1000;

/** The clock of this page, for who has not been heard of. */
function useNow(): number {
  const { wallNowMs } = useTablet();
  const [nowMs, setNowMs] = useState(wallNowMs);
  useEffect(() => {
    const turn = window.setInterval(() => setNowMs(wallNowMs()), AGAIN_MS);
    return () => window.clearInterval(turn);
  }, [wallNowMs]);
  return nowMs;
}

/** Follows the tablet that was chosen, as long as this page is looked at and no case runs here. */
export function useFollowTablet(): FollowModel {
  const session = useSession();
  const sharing = useApp((s) => s.sharing);
  const settings = useApp((s) => s.settings);
  const isWriter = useApp((s) => s.standing === 'writer');
  const shown = useApp((s) => s.running?.caseId ?? null);
  const runsHere = useApp((s) => s.running?.isViewOnly === false);
  const nowMs = useNow();
  const model = followModel({ sharing, settings }, nowMs);
  const device = model.chosen?.device ?? null;
  const wanted = toFollow(model);
  const mayFollow = isWriter && !runsHere;
  useEffect(() => {
    if (!mayFollow || device === null || wanted === 'as-it-is' || wanted === shown) return;
    if (wanted === 'none') {
      if (shown !== null) session.leaveCase();
      return;
    }
    const follow = (): void => void session.follow({ device, caseId: wanted });
    follow();
    const again = window.setInterval(follow, AGAIN_MS);
    return () => window.clearInterval(again);
  }, [session, mayFollow, device, wanted, shown]);
  useEffect(
    () => () => {
      const { standing, running } = session.store.getState();
      if (standing === 'writer' && running?.isViewOnly === true) session.leaveCase();
    },
    [session],
  );
  return model;
}

/** Which tablet is followed is remembered on this one. */
function useChoose(): (device: string) => void {
  const session = useSession();
  return (farViewOf) => {
    const { settings, running } = session.store.getState();
    if (running?.isViewOnly === true) session.leaveCase();
    void session.saveSettings({ ...settings, farViewOf });
  };
}

/** No case runs here: which tablet is looked at, or what is waited for. */
export function FarChoice({ tablets, chosen }: FollowModel) {
  const choose = useChoose();
  if (chosen !== null) {
    const { name, runs } = chosen;
    return (
      <EmptyState
        words={runs === null ? farViewWords.waits(name) : farViewWords.onItsWay(runs.title)}
        advice={farViewWords.waitsTodo}
        action={<Button onPress={() => choose('')}>{farViewWords.other}</Button>}
      />
    );
  }
  return (
    <section className="far-view-choice" aria-label={farViewWords.choose}>
      <h1>{farViewWords.choose}</h1>
      <p>{farViewWords.chooseTodo}</p>
      <ul>
        {tablets.map((tablet) => (
          <li key={tablet.device}>
            <Button size="chair" onPress={() => choose(tablet.device)}>
              <strong>{tablet.name}</strong> <span>{runsWords(tablet)}</span>
            </Button>
          </li>
        ))}
      </ul>
      <Link className="lw-way" href="/">
        {farViewWords.toToday}
      </Link>
    </section>
  );
}

function runsWords({ runs, isHeard }: FollowModel['tablets'][number]): string {
  if (!isHeard) return farViewWords.unheard;
  return runs === null ? farViewWords.runsNone : runs.title;
}

/** Whose case it is, and the way to another. */
export function FarSource({ chosen }: { readonly chosen: NonNullable<FollowModel['chosen']> }) {
  const choose = useChoose();
  return (
    <span className="far-view-source">
      {farViewWords.following(chosen.name)}{' '}
      <Button rank="quiet" onPress={() => choose('')}>
        {farViewWords.other}
      </Button>
    </span>
  );
}
