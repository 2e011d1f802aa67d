/** Notices when the case on the chair is closed, and when its closing is taken back. */
import type { RunningCase } from '../app-state.ts';
import type { AppStore } from '../store.ts';

const isClosed = ({ log }: RunningCase): boolean => log.state.closed !== null;

/** Calls `onTurn` once what was pressed is stored; the next call waits for the one before. */
export function watchClosing(
  store: Pick<AppStore, 'subscribe'>,
  onTurn: (running: RunningCase) => Promise<void>,
): void {
  let last: RunningCase | null = null;
  let turns: Promise<void> = Promise.resolve();
  store.subscribe(({ running }) => {
    // What is on its way to the journal may still be refused.
    if (running !== null && (running.pending > 0 || running.unsaved > 0)) return;
    // Who writes it does what follows.
    if (running?.isViewOnly) return;
    const before = last;
    last = running;
    // What another window or another tablet closes is followed up there.
    if (running?.isViewOnly) return;
    if (!running || running.caseId !== before?.caseId) return;
    if (isClosed(running) === isClosed(before)) return;
    // One that failed holds none of the later ones back.
    turns = turns.catch(() => undefined).then(() => onTurn(running));
  });
}

type AfterClosing = typeof import('./after-closing.ts')['afterClosing'];
type Session = Parameters<AfterClosing>[0] & { refreshLists(): Promise<void> };

/** Does what follows when the case on the chair is closed, or its closing is taken back. */
export function followClosing(session: Session, newId: () => string): void {
  // The lists are not read while a case runs, but they must know when it is over.
  watchClosing(session.store, async ({ caseId, log }) => {
    await session.refreshLists();
    const { afterClosing } = await import('./after-closing.ts');
    await afterClosing(session, { caseId, log, id: newId() });
  });
}
