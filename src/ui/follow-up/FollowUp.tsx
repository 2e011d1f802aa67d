import { Redirect, Route, Switch } from 'wouter';
import { BondedBefore } from './BondedBefore.tsx';
import { FollowUpCase } from './FollowUpCase.tsx';
import { FollowUpList } from './FollowUpList.tsx';
import { RecallVisit } from './RecallVisit.tsx';

/** The pages of this room. */
export function FollowUp() {
  return (
    <Switch>
      <Route path="/follow-up" component={FollowUpList} />
      <Route path="/follow-up/before" component={BondedBefore} />
      <Route path="/follow-up/:caseId/visit">
        {({ caseId }) => <RecallVisit key={caseId} caseId={caseId} />}
      </Route>
      <Route path="/follow-up/:caseId/visit/:of">
        {({ caseId, of }) => <RecallVisit key={`${caseId} ${of}`} caseId={caseId} of={of} />}
      </Route>
      <Route path="/follow-up/:caseId">
        {({ caseId }) => <FollowUpCase key={caseId} caseId={caseId} />}
      </Route>
      <Route>
        <Redirect to="/follow-up" replace />
      </Route>
    </Switch>
  );
}
