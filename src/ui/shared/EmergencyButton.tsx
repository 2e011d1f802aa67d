import { askForEmergency } from '../../runtime/emergency/emergency-ask.ts';
import { appWords } from '../../words/app-words.ts';
import { useApp, useSession } from './session-context.ts';
import './emergency-button.css';

/** The way to the emergency cards, on every screen; while one is open it says for how long. */
export function EmergencyButton() {
  const session = useSession();
  const { open, span } = useApp((s) => s.emergency);
  return (
    <button
      type="button"
      className="lw-emergency-button lw-screen-only"
      data-open={open.length > 0}
      onClick={() => askForEmergency(session.store)}
    >
      {span === null ? appWords.emergency : appWords.emergencyOpen(span)}
    </button>
  );
}
