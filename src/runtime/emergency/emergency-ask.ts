/** The first of the two taps. */
import type { AppStore } from '../store.ts';

/** One tap, from any screen: the newest card that is open, else the choice of one. */
export function askForEmergency(store: AppStore): void {
  const { emergency } = store.getState();
  const shown = emergency.open.at(-1)?.card ?? 'list';
  store.setState({ emergency: { ...emergency, shown } });
}
