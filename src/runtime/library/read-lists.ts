/** The lists of cases, protocols and settings, as the journal has them now. */
import type { AppState } from '../app-state.ts';
import { readSecondEnds, secondEndRows } from '../cases/second-ends.ts';
import { unansweredOf } from '../lead/unanswered.ts';
import type { SessionParts } from '../session-parts.ts';
import { readLibrary, withZone } from './library.ts';
import type { SettingsOnWay } from './settings-on-way.ts';

/** What of the state has changed; what could not be read stays as it was. */
export async function readLists(
  parts: SessionParts,
  settingsOnWay: SettingsOnWay,
): Promise<Partial<AppState>> {
  const { journal, store, shipped } = parts;
  const isNewest = settingsOnWay.reading();
  const library = await readLibrary(journal, shipped);
  const cases = await journal.listCases();
  const damage = await journal.damage.read();
  const ends = await readSecondEnds(journal);
  const corrections = await unansweredOf(parts, library.protocols);
  return {
    // What was typed meanwhile is newer than what was read.
    ...(isNewest() ? { settings: withZone(library.settings, store.getState().tablet.zone) } : {}),
    prepared: library.prepared,
    preparedTwice: library.preparedTwice,
    unreadPrepared: library.unreadPrepared,
    ...(damage.ok ? { damage: damage.value } : {}),
    ...(ends.ok ? { secondEnds: secondEndRows(ends.value) } : {}),
    protocols: library.protocols,
    corrections,
    cases: cases.ok ? cases.value : store.getState().cases,
  };
}
