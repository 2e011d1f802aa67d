/** The lists of cases, protocols and settings, as the journal has them now. */
import type { AppState } from '../app-state.ts';
import { BEGUN_AT_STORE } from '../cases/begun-at-store.ts';
import { SECOND_END } from '../cases/second-end-kind.ts';
import type { SecondEndRow } from '../cases/second-ends.ts';
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
  const ends = await readRows(journal);
  const corrections = await unansweredOf(parts, library.protocols);
  const begun = await journal.documents.list(BEGUN_AT_STORE);
  const isBegun = new Set((begun.ok ? begun.value : []).map(({ id }) => id));
  return {
    // What was typed meanwhile is newer than what was read.
    ...(isNewest() ? { settings: withZone(library.settings, store.getState().tablet.zone) } : {}),
    prepared: library.prepared.filter(({ id }) => !isBegun.has(id)),
    preparedTwice: library.preparedTwice,
    unreadPrepared: library.unreadPrepared,
    ...(damage.ok ? { damage: damage.value } : {}),
    ...(ends === null ? {} : { secondEnds: ends }),
    protocols: library.protocols,
    corrections,
    cases: cases.ok ? cases.value : store.getState().cases,
  };
}

/** Second ends, whose code is loaded where there are some; null where they cannot be read now. */
async function readRows(
  journal: Pick<SessionParts['journal'], 'documents'>,
): Promise<readonly SecondEndRow[] | null> {
  const listed = await journal.documents.list(SECOND_END);
  if (!listed.ok || listed.value.length === 0) return listed.ok ? [] : null;
  const code = await import('../cases/second-ends.ts').catch(() => null);
  const ends = await code?.readSecondEnds(journal);
  return code && ends?.ok ? code.secondEndRows(ends.value) : null;
}
