import { lazy, Suspense, useEffect } from 'react';
import { Route, Switch } from 'wouter';
import type { AppState } from '../../runtime/app-state.ts';
import { Chair } from '../screens/Chair.tsx';
import { Clinic } from '../screens/Clinic.tsx';
import { Glance } from '../screens/Glance.tsx';
import { Plan } from '../screens/Plan.tsx';
import { ProtocolDetail } from '../screens/ProtocolDetail.tsx';
import { Protocols } from '../screens/Protocols.tsx';
import { Record } from '../screens/Record.tsx';
import { SetUp } from '../screens/SetUp.tsx';
import { Today } from '../screens/Today.tsx';
import { appWords } from '../words/app-words.ts';
import { Frame } from './Frame.tsx';
import { useApp } from './session-context.ts';

// The desk is opened rarely; the chair does not wait for it.
const LeadDesk = lazy(async () => ({
  default: (await import('../screens/LeadDesk.tsx')).LeadDesk,
}));

const Gallery = lazy(async () => ({
  default: (await import('../gallery/Gallery.tsx')).Gallery,
}));

/** Amber while uncured resin is exposed, else what the person chose, else what the device prefers. */
function wantedTheme(state: AppState): 'light' | 'dark' | 'amber' {
  if (state.settings.amber && state.running?.view.amber) return 'amber';
  if (state.settings.theme !== 'auto') return state.settings.theme;
  return window.matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

/** Puts theme and sizes on the root element, where the style sheets read them. */
function useRootLook(): void {
  const theme = useApp(wantedTheme);
  const pxPerMm = useApp((s) => s.settings.pxPerMm);
  const distanceM = useApp((s) => s.settings.distanceM);
  useEffect(() => {
    const root = document.documentElement;
    root.dataset['theme'] = theme;
    if (pxPerMm !== null) root.style.setProperty('--px-per-mm', String(pxPerMm));
    root.style.setProperty('--reading-distance-m', String(distanceM));
  }, [theme, pxPerMm, distanceM]);
}

export function App() {
  useRootLook();
  const phase = useApp((s) => s.phase);
  if (phase === 'starting') return <p className="lw-starting">{appWords.opening}</p>;
  return (
    <Switch>
      <Route path="/" component={Today} />
      <Route path="/set-up/:id?">{(params) => <SetUp id={params.id} />}</Route>
      <Route path="/plan/:id">{(params) => <Plan id={params.id} />}</Route>
      <Route path="/chair" component={Chair} />
      <Route path="/glance" component={Glance} />
      <Route path="/record/:caseId">{(params) => <Record caseId={params.caseId} />}</Route>
      <Route path="/protocols" component={Protocols} />
      <Route path="/lead/*?">
        <Suspense fallback={<p className="lw-starting">{appWords.opening}</p>}>
          <LeadDesk />
        </Suspense>
      </Route>
      <Route path="/protocols/:id">{(params) => <ProtocolDetail id={params.id} />}</Route>
      <Route path="/clinic" component={Clinic} />
      {import.meta.env.DEV && (
        <Route path="/gallery">
          <Suspense>
            <Gallery />
          </Suspense>
        </Route>
      )}
      <Route>
        <Frame place="today" title={appWords.notFound}>
          {null}
        </Frame>
      </Route>
    </Switch>
  );
}
