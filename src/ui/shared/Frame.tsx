import { lazy, type ReactNode, useState } from 'react';
import { useLocation } from 'wouter';
import { appWords, faultWords } from '../../words/app-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Late } from '../parts/Late.tsx';
import { Page, PlaceNav } from '../parts/Page.tsx';
import { isDamaged } from './damage-model.ts';
import { EmergencyButton } from './EmergencyButton.tsx';
import { SharingSpot } from './SharingSpot.tsx';
import { useApp, useIsRunning, useSession, useTablet } from './session-context.ts';
import { useWindowTitle } from './window-title.ts';

type PlaceId = keyof typeof appWords.places;

// What is due for review can be worked out once the page stands.
const LeadDeskOverdue = lazy(async () => ({
  default: (await import('./LeadDeskOverdue.tsx')).LeadDeskOverdue,
}));

const HREFS: readonly { readonly id: PlaceId; readonly href: string }[] = [
  { id: 'today', href: '/' },
  { id: 'set-up', href: '/set-up' },
  { id: 'chair', href: '/chair' },
  { id: 'record', href: '/record' },
  { id: 'protocols', href: '/protocols' },
  { id: 'materials', href: '/materials' },
  { id: 'clinic', href: '/clinic' },
];

// Few tablets have anything to say here.
const DamageBanners = lazy(async () => ({
  default: (await import('./DamageBanners.tsx')).DamageBanners,
}));

interface FrameProps {
  readonly place: PlaceId;
  readonly title: string;
  readonly lede?: string | undefined;
  readonly actions?: ReactNode;
  readonly width?: 'reading' | 'full' | undefined;
  readonly children: ReactNode;
}

/** The frame of every page away from the chair: the places, what the app says about itself, the page. */
export function Frame(props: FrameProps) {
  useWindowTitle(props.title);
  const [, navigate] = useLocation();
  const isRunning = useIsRunning();
  const places = HREFS.map(({ id, href }) => ({
    id,
    href,
    label: appWords.places[id],
    ...(id === 'chair' && isRunning ? { count: 1, countWords: appWords.running } : {}),
  }));
  return (
    <Page
      title={props.title}
      lede={props.lede}
      actions={props.actions}
      width={props.width}
      nav={<PlaceNav places={places} currentId={props.place} onNavigate={navigate} />}
      line={<SharingSpot />}
      status={<EmergencyButton />}
      banners={<AppBanners />}
    >
      {props.children}
    </Page>
  );
}

function AppBanners() {
  const tablet = useTablet();
  const standing = useApp((s) => s.standing);
  const fault = useApp((s) => s.fault);
  const report = useApp((s) => s.report);
  const hasDamage = useApp((s) => isDamaged(s.damage));
  const journal = useApp((s) => s.journal);
  const update = useApp((s) => s.tablet.update);
  const isRunning = useIsRunning();
  return (
    <>
      {fault !== null && (
        <Banner
          tone="broken"
          words={appWords.fault}
          advice={faultWords({ fault, isReader: standing === 'reader' })}
        />
      )}
      {!journal.saved && (
        <Banner
          tone="broken"
          words={appWords.notSaved}
          advice={journal.problem === 'database-full' ? appWords.full : appWords.notSavedAdvice}
        />
      )}
      <Late>{(hasDamage || (report?.mended ?? 0) > 0) && <DamageBanners />}</Late>
      <Late>
        <LeadDeskOverdue />
      </Late>
      {standing === 'reader' && <ReaderBanner />}
      {standing === 'none' && (
        <Banner tone="broken" words={appWords.noWriter} advice={appWords.noWriterAdvice} />
      )}
      {report?.databaseLost && !hasDamage && <Banner tone="attention" words={appWords.rebuilt} />}
      {standing === 'writer' && journal.copies === 1 && (
        <Banner tone="plain" words={appWords.oneCopy} advice={appWords.oneCopyAdvice} />
      )}
      {(update === 'waiting' || update === 'held') && !isRunning && (
        <Banner
          tone="plain"
          words={update === 'held' ? appWords.updateHeld : appWords.update}
          action={<Button onPress={tablet.applyUpdate}>{appWords.updateDo}</Button>}
        />
      )}
    </>
  );
}

function ReaderBanner() {
  const session = useSession();
  const [answer, setAnswer] = useState<'refused' | 'silent' | null>(null);
  const ask = async (o: { readonly force: boolean }) => {
    const outcome = await session.becomeWriter(o);
    setAnswer(outcome === 'held' ? null : outcome);
  };
  const advice = answer === null ? appWords.readerAdvice : appWords[answer];
  return (
    <Banner
      tone="attention"
      words={appWords.reader}
      advice={advice}
      action={
        <Button onPress={() => void ask({ force: answer === 'silent' })}>
          {answer === 'silent' ? appWords.takeOverForce : appWords.takeOver}
        </Button>
      }
    />
  );
}
