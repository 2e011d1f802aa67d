import { Link, Route, Switch } from 'wouter';
import { sharingLinkWords } from '../../../words/sharing-link-words.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { BrokenChains } from '../../shared/BrokenChains.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useApp, useSession } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { BoxPaper } from './BoxPaper.tsx';
import { Conflicts } from './Conflicts.tsx';
import { BOX_PAPER, CONFLICTS } from './places.ts';
import { TabletsAlone } from './TabletsAlone.tsx';
import { TabletsLeave } from './TabletsLeave.tsx';
import { TabletsPaired } from './TabletsPaired.tsx';
import { SharingContext, useShared } from './use-sharing.ts';
import './tablets.css';

/** The clinic's tablets: what is shared, with whom, and what somebody has to choose about. */
export function Tablets() {
  const session = useSession();
  const loaded = useLoaded(async () => (await session.sharing?.()) ?? null, [session]);
  const sharing = loaded.value ?? null;
  if (loaded.state === 'loading') {
    return (
      <Frame place="clinic" title={sharingWords.title}>
        <p>{sharingWords.opening}</p>
      </Frame>
    );
  }
  if (sharing === null) {
    return (
      <Frame place="clinic" title={sharingWords.title} actions={<ToClinic />}>
        <Banner tone="plain" words={sharingWords.notHere} advice={sharingWords.notHereTodo} />
      </Frame>
    );
  }
  return (
    <SharingContext value={sharing}>
      <Switch>
        <Route path={CONFLICTS} component={Conflicts} />
        <Route path={BOX_PAPER} component={BoxPaper} />
        <Route component={Home} />
      </Switch>
    </SharingContext>
  );
}

const ToClinic = () => <Link href="/clinic">{sharingWords.toClinic}</Link>;

function Home() {
  const standing = useShared((s) => s.standing);
  const conflicts = useShared((s) => s.conflicts);
  const isReader = useApp((s) => s.standing === 'reader');
  return (
    <Frame
      place="clinic"
      title={sharingWords.title}
      lede={sharingWords.lede}
      actions={<ToClinic />}
    >
      {isReader && (
        <Banner tone="plain" words={sharingWords.reader} advice={sharingWords.readerTodo} />
      )}
      <BrokenChains />
      {conflicts > 0 && (
        <Banner
          tone="attention"
          words={sharingLinkWords.notices.conflicts(conflicts)}
          action={<Link href={CONFLICTS}>{sharingLinkWords.seeConflicts}</Link>}
        />
      )}
      {standing === 'alone' && <TabletsAlone />}
      {standing === 'paired' && <TabletsPaired />}
      {standing === 'put-out' && (
        <>
          <Banner
            tone="broken"
            words={sharingWords.thisPutOut}
            advice={sharingWords.thisPutOutTodo}
          />
          <TabletsLeave />
        </>
      )}
    </Frame>
  );
}
