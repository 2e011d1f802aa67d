/** Whether anything that was saved on this tablet is missing. Pure. */
import type { AppState } from '../../runtime/app-state.ts';

export const isDamaged = ({ cases, unnamed, unreadable }: AppState['damage']): boolean =>
  cases.length > 0 || unnamed > 0 || unreadable > 0;
