import type { Settings } from '../../runtime/app-state.ts';

/** What every part of the clinic page is given. */
export interface SettingsPartProps {
  readonly settings: Settings;
  readonly onChange: (change: Partial<Settings>) => void;
}
