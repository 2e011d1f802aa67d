import { lazy, useState } from 'react';
import { useLocation } from 'wouter';
import { soundMemoryWords } from '../../words/sound-words.ts';
import { noticeWords } from '../../words/tour-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Late } from '../parts/Late.tsx';
import { isDamaged } from '../shared/damage-model.ts';
import { SoundTest } from '../shared/SoundTest.tsx';
import {
  useApp,
  useIsRunning,
  useSession,
  useTablet,
  useTimes,
} from '../shared/session-context.ts';
import { soundMemory } from '../shared/sound-memory.ts';
import { beginTour } from '../shared/tour.ts';
import { ZoneNotice } from '../shared/ZoneNotice.tsx';
import { UnansweredNotice } from './TodayUnanswered.tsx';
import './today-notices.css';

const DamagedPrepared = lazy(async () => ({
  default: (await import('./DamagedPrepared.tsx')).DamagedPrepared,
}));

const BrokenChains = lazy(async () => ({
  default: (await import('../shared/BrokenChains.tsx')).BrokenChains,
}));

const SharingNotice = lazy(async () => ({
  default: (await import('./SharingNotice.tsx')).SharingNotice,
}));

/** What this tablet has to say about itself before a case: never tried, may forget, not heard. */
export function TodayNotices() {
  const isViewOnly = useApp((s) => s.standing === 'reader');
  // Whoever runs a case has other things to read.
  const isRunning = useIsRunning();
  if (isRunning) return null;
  if (isViewOnly) {
    return (
      <>
        <ZoneNotice />
        <Unread />
        <Broken />
        <Shared />
      </>
    );
  }
  return (
    <>
      <ZoneNotice />
      <Unread />
      <Broken />
      <Unanswered />
      <Shared />
      <div className="today-notices">
        <TourOffer />
        <KeepNotice />
        <ScreenNotice />
        <SoundNotice />
      </div>
    </>
  );
}

function Unread() {
  const names = useApp((s) => s.unreadPrepared);
  return <Late>{names.length > 0 && <DamagedPrepared names={names} />}</Late>;
}

function Broken() {
  const hasSome = useApp((s) => s.sharing.brokenChains.length > 0);
  return <Late>{hasSome && <BrokenChains />}</Late>;
}

/** Only a tablet that shares, or has something to choose about, loads what is told of it. */
function Shared() {
  const isTold = useApp(({ sharing }) => sharing.standing !== 'alone' || sharing.conflicts > 0);
  return <Late>{isTold && <SharingNotice />}</Late>;
}

function Unanswered() {
  const open = useApp((s) => s.corrections);
  return open.map((of) => <UnansweredNotice key={of.protocol} {...of} />);
}

/** Offered as long as nothing was ever run on this tablet; what was run and is lost was run. */
function TourOffer() {
  const session = useSession();
  const [, navigate] = useLocation();
  const isNew = useApp((s) => s.cases.length === 0 && !isDamaged(s.damage));
  const [isLater, setLater] = useState(false);
  const [isLost, setLost] = useState(false);
  if (!isNew || isLater) return null;
  const begin = async (): Promise<void> => {
    if (await beginTour(session)) navigate('/chair');
    else setLost(true);
  };
  return (
    <Banner
      tone="plain"
      words={noticeWords.tour}
      advice={isLost ? noticeWords.tourLost : noticeWords.tourTodo}
      action={
        <ButtonRow>
          <Button onPress={() => void begin()}>{noticeWords.tourDo}</Button>
          <Button rank="quiet" onPress={() => setLater(true)}>
            {noticeWords.later}
          </Button>
        </ButtonRow>
      }
    />
  );
}

/** A case in a browser's tab, on a tablet that may clear it. */
function KeepNotice() {
  const tablet = useTablet();
  const storage = useApp((s) => s.tablet.storage);
  const canInstall = useApp((s) => s.tablet.canInstall);
  const [isLater, setLater] = useState(false);
  if (storage.isInstalled || storage.protection === 'protected' || isLater) return null;
  return (
    <Banner
      tone="attention"
      words={storage.protection === 'evictable' ? noticeWords.mayForget : noticeWords.doesNotSay}
      advice={canInstall ? noticeWords.installOffered : noticeWords.installByMenu}
      action={
        <ButtonRow>
          {canInstall ? (
            <Button onPress={() => void tablet.install()}>{noticeWords.install}</Button>
          ) : (
            <Button onPress={() => void tablet.protectStorage()}>{noticeWords.protect}</Button>
          )}
          <Button rank="quiet" onPress={() => setLater(true)}>
            {noticeWords.later}
          </Button>
        </ButtonRow>
      }
    />
  );
}

/** Nothing in the app can mend it, so it stands until the browser is another one. */
function ScreenNotice() {
  const { state } = useApp((s) => s.tablet.screen);
  if (state !== 'unsupported') return null;
  return <Banner tone="plain" words={noticeWords.maySleep} advice={noticeWords.maySleepTodo} />;
}

/** Asked again once the last answer is old; until then it only says who heard it. */
function SoundNotice() {
  const tablet = useTablet();
  const settings = useApp((s) => s.settings);
  const memory = soundMemory(settings, { nowMs: tablet.wallNowMs() });
  const { words, advice } = soundMemoryWords(memory, useTimes());
  if (memory.state === 'fresh') return <p className="today-heard">{words}</p>;
  return <Banner tone="plain" words={words} advice={advice ?? undefined} action={<SoundTest />} />;
}
