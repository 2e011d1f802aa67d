import { lazy, use } from 'react';
import { Redirect, Route, Switch } from 'wouter';
import { leadWords } from '../../words/lead-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { Frame } from '../shared/Frame.tsx';
import { RECALLS } from '../shared/materials-model.ts';
import { useSession } from '../shared/session-context.ts';
import { useDeskHours } from '../shared/use-desk-hours.ts';
import { Corrections } from './Corrections.tsx';
import { Editor } from './editor/Editor.tsx';
import { LeadDeskGate } from './LeadDeskGate.tsx';
import { LeadDeskHome } from './LeadDeskHome.tsx';
import { LeadDeskLog } from './LeadDeskLog.tsx';
import { OTHER_CLINICS, OWN_TIMES, SHEETS } from './lead-places.ts';
import { OtherClinics } from './OtherClinics.tsx';
import { OwnTimes } from './OwnTimes.tsx';
import { Recalls } from './Recalls.tsx';
import { LeadContext, useLead, useLeadDesk } from './use-lead.ts';
import '../shared/protocols.css';
import './lead-desk.css';

// Read when it is asked for: most visits to the desk are about something else.
const History = lazy(async () => ({ default: (await import('./history/History.tsx')).History }));
const Sheets = lazy(async () => ({ default: (await import('./sheets/Sheets.tsx')).Sheets }));

/** Everything behind the passphrase: one place that stays while its pages change. */
export function LeadDesk() {
  const desk = use(useSession().lead());
  return (
    <LeadContext value={desk}>
      <Pages />
    </LeadContext>
  );
}

function Pages() {
  useDeskHours(useLeadDesk());
  const isRead = useLead((s) => s.isRead);
  const isOpen = useLead((s) => s.isOpen);
  if (!isRead) {
    return (
      <Frame place="protocols" title={leadWords.title}>
        <EmptyState words={leadWords.reading} />
      </Frame>
    );
  }
  if (!isOpen) return <LeadDeskGate />;
  return (
    <Switch>
      <Route path="/lead/draft/:id/:view?">
        {(params) => <Editor key={params.id} id={params.id} view={params.view} />}
      </Route>
      <Route path={`${OTHER_CLINICS}/:draft?`}>
        {(params) => <OtherClinics draft={params.draft} />}
      </Route>
      <Route path={`${SHEETS}/:id?/:view?`}>
        {({ id, view }) => <Sheets key={id} id={id} view={view} />}
      </Route>
      <Route path={OWN_TIMES} component={OwnTimes} />
      <Route path="/lead/history/:protocol/:hash/:other">
        {({ protocol, ...at }) => <History key={protocol} protocolId={protocol} {...at} />}
      </Route>
      <Route path="/lead/history/:protocol/:hash?">
        {({ protocol, hash }) => <History key={protocol} protocolId={protocol} hash={hash} />}
      </Route>
      <Route path="/lead/corrections/:protocol">
        {(params) => <Corrections key={params.protocol} protocol={params.protocol} />}
      </Route>
      {/* Earlier addresses, which somebody may have saved. */}
      <Route path="/lead/exchange/:draft?">
        {({ draft }) => (
          <Redirect
            to={draft === undefined ? OTHER_CLINICS : `${OTHER_CLINICS}/${draft}`}
            replace
          />
        )}
      </Route>
      <Route path="/lead/learning">{() => <Redirect to={OWN_TIMES} replace />}</Route>
      <Route path={RECALLS} component={Recalls} />
      <Route path="/lead/log" component={LeadDeskLog} />
      <Route component={LeadDeskHome} />
    </Switch>
  );
}
