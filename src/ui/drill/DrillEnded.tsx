import { useLocation } from 'wouter';
import type { DrillEnded as Ended } from '../../runtime/app-state.ts';
import { drillWords } from '../../words/drill-words.ts';
import { Button } from '../parts/Button.tsx';
import { useSession } from '../shared/session-context.ts';
import './drill.css';

/** Over every page, until somebody has seen it: why the drill is over, and where it is told. */
export function DrillEnded({ ended }: { readonly ended: Ended }) {
  const { store } = useSession();
  const [path, navigate] = useLocation();
  const seen = (): void => store.setState({ drillEnded: null });
  const read = (): void => {
    seen();
    navigate(`/drill/${ended.caseId}`);
  };
  return (
    <aside className="drill-line lw-screen-only" aria-label={drillWords.place} role="status">
      <p className="drill-last">{ended.isKept ? drillWords.ended : drillWords.putDown}</p>
      {/* Nobody is led away from a patient's case. */}
      {ended.isKept && path !== '/chair' && (
        <Button size="chair" onPress={read}>
          {drillWords.debrief.title}
        </Button>
      )}
      <Button size="chair" onPress={seen}>
        {drillWords.taken}
      </Button>
    </aside>
  );
}
