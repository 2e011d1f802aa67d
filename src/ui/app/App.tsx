import { lazy, useEffect } from 'react';
import { Redirect, Route, Switch, useLocation } from 'wouter';
import type { AppState } from '../../runtime/app-state.ts';
import { appWords } from '../../words/app-words.ts';
import { Chair } from '../chair/Chair.tsx';
import { Late } from '../parts/Late.tsx';
import { SheetHeadContext } from '../parts/Sheet.tsx';
import { EmergencyButton } from '../shared/EmergencyButton.tsx';
import { Frame } from '../shared/Frame.tsx';
import { SharingSpot } from '../shared/SharingSpot.tsx';
import { useApp, useIsRunning } from '../shared/session-context.ts';
import { Today } from '../today/Today.tsx';

// Pages away from the chair are files of their own, kept on the device like the rest: the chair does
// not wait for them. Today and the chair are loaded first.
const Backup = lazy(async () => ({ default: (await import('../backup/Backup.tsx')).Backup }));
const Cases = lazy(async () => ({ default: (await import('../cases/Cases.tsx')).Cases }));
const Clinic = lazy(async () => ({ default: (await import('../clinic/Clinic.tsx')).Clinic }));
const Emergency = lazy(async () => ({
  default: (await import('../emergency/Emergency.tsx')).Emergency,
}));
const Debrief = lazy(async () => ({ default: (await import('../drill/Debrief.tsx')).Debrief }));
const DrillEnded = lazy(async () => ({
  default: (await import('../drill/DrillEnded.tsx')).DrillEnded,
}));
const DrillOver = lazy(async () => ({
  default: (await import('../drill/DrillOver.tsx')).DrillOver,
}));
const Drills = lazy(async () => ({ default: (await import('../drill/Drills.tsx')).Drills }));
const FarView = lazy(async () => ({ default: (await import('../chair/FarView.tsx')).FarView }));
const FollowUp = lazy(async () => ({
  default: (await import('../follow-up/FollowUp.tsx')).FollowUp,
}));
const LeadDesk = lazy(async () => ({
  default: (await import('../lead/LeadDesk.tsx')).LeadDesk,
}));
const Materials = lazy(async () => ({
  default: (await import('../materials/Materials.tsx')).Materials,
}));
const MaterialsDetail = lazy(async () => ({
  default: (await import('../materials/stock/MaterialsDetail.tsx')).MaterialsDetail,
}));
const MaterialsCalls = lazy(async () => ({
  default: (await import('../materials/calls/MaterialsCalls.tsx')).MaterialsCalls,
}));
const Outcomes = lazy(async () => ({
  default: (await import('../outcomes/Outcomes.tsx')).Outcomes,
}));
const Plan = lazy(async () => ({ default: (await import('../plan/Plan.tsx')).Plan }));
const ProtocolDetail = lazy(async () => ({
  default: (await import('../protocols/ProtocolDetail.tsx')).ProtocolDetail,
}));
const Protocols = lazy(async () => ({
  default: (await import('../protocols/Protocols.tsx')).Protocols,
}));
const QuickCard = lazy(async () => ({
  default: (await import('../clinic/QuickCard.tsx')).QuickCard,
}));
const Record = lazy(async () => ({ default: (await import('../record/page/Record.tsx')).Record }));
const RunningLine = lazy(async () => ({
  default: (await import('../chair/RunningLine.tsx')).RunningLine,
}));
const SetUp = lazy(async () => ({ default: (await import('../set-up/SetUp.tsx')).SetUp }));
const Tablets = lazy(async () => ({
  default: (await import('../clinic/tablets/Tablets.tsx')).Tablets,
}));
const WallCard = lazy(async () => ({
  default: (await import('../lead/WallCard.tsx')).WallCard,
}));

/** A sheet makes the page behind it inert, so it has the button in its own head. */
const IN_SHEET_HEAD = (
  <>
    <SharingSpot as="demo" />
    <EmergencyButton />
  </>
);

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

/** A new place begins at its top; who goes back comes to where they were. */
function useTop(): void {
  useEffect(() => {
    const toTop = (): void => window.scrollTo(0, 0);
    // Told by the router after each place it has put into the history; going back tells another.
    window.addEventListener('pushState', toTop);
    return () => window.removeEventListener('pushState', toTop);
  }, []);
}

export function App() {
  useRootLook();
  useTop();
  const phase = useApp((s) => s.phase);
  const [path] = useLocation();
  if (phase === 'starting') return <p className="lw-starting">{appWords.opening}</p>;
  return (
    <SheetHeadContext value={IN_SHEET_HEAD}>
      <Late at={path} fallback={<p className="lw-starting">{appWords.opening}</p>}>
        <RunningSpot />
        <DrillSpot />
        <Places />
      </Late>
      {/* Loaded as soon as the first screen stands, so that its first tap waits for nothing. */}
      <Late>
        <Emergency />
      </Late>
    </SheetHeadContext>
  );
}

/** The screens that show the running case themselves. */
const SHOW_THE_CASE: ReadonlySet<string> = new Set(['/chair', '/far-view']);

/** Where the running case is seen from every other page; its room is kept while it loads. */
function RunningSpot() {
  const [path] = useLocation();
  const isRunning = useIsRunning();
  if (!isRunning || SHOW_THE_CASE.has(path)) return null;
  return (
    <Late fallback={<div className="lw-line-room" />}>
      <RunningLine />
    </Late>
  );
}

/** The cards of a drill, over whatever shows its case; afterwards why it was ended, where nobody asked for that. */
function DrillSpot() {
  const isDrill = useApp((s) => s.running?.log.state.opened.drill !== undefined);
  const ended = useApp((s) => s.drillEnded);
  if (!isDrill && !ended) return null;
  return <Late>{isDrill ? <DrillOver /> : ended && <DrillEnded ended={ended} />}</Late>;
}

function Places() {
  return (
    <Switch>
      <Route path="/" component={Today} />
      <Route path="/set-up/:id?">{(params) => <SetUp id={params.id} />}</Route>
      <Route path="/plan/:id">{(params) => <Plan id={params.id} />}</Route>
      <Route path="/chair" component={Chair} />
      <Route path="/far-view" component={FarView} />
      {/* The address that the far view had before: bookmarks of second devices hold it. */}
      <Route path="/glance">
        <Redirect to="/far-view" replace />
      </Route>
      <Route path="/record" component={Cases} />
      <Route path="/drill" component={Drills} />
      <Route path="/drill/:caseId">
        {({ caseId }) => <Debrief key={caseId} caseId={caseId} />}
      </Route>
      <Route path="/backup" component={Backup} />
      <Route path="/materials">{() => <Materials tab="stock" />}</Route>
      <Route path="/materials/light">{() => <Materials tab="light" />}</Route>
      <Route path="/materials/calls/:lot">
        {({ lot }) => <MaterialsCalls key={lot} place={lot} />}
      </Route>
      <Route path="/materials/:id">{(params) => <MaterialsDetail id={params.id} />}</Route>
      <Route path="/record/:caseId">{(params) => <Record caseId={params.caseId} />}</Route>
      <Route path="/follow-up/*?" component={FollowUp} />
      <Route path="/outcomes/:part?">{({ part }) => <Outcomes part={part} />}</Route>
      <Route path="/protocols" component={Protocols} />
      <Route path="/lead/*?">
        <LeadDesk />
      </Route>
      <Route path="/protocols/:id/card">
        {(params) => (
          <Late fallback={<p className="lw-starting">{appWords.opening}</p>}>
            <WallCard id={params.id} />
          </Late>
        )}
      </Route>
      <Route path="/protocols/:id">{(params) => <ProtocolDetail id={params.id} />}</Route>
      <Route path="/clinic" component={Clinic} />
      <Route path="/clinic/card" component={QuickCard} />
      <Route path="/clinic/tablets/*?" component={Tablets} />
      <Route>
        <Frame place="today" title={appWords.notFound}>
          {null}
        </Frame>
      </Route>
    </Switch>
  );
}
