/** Works out what is missing, at a start and while the app runs. */
import { readCase } from './database-reads.ts';
import { type CaseHead, type Heads, RECENT_MAX } from './heads.ts';
import type { HeadsKeeper } from './heads-keeper.ts';
import { joinDamage } from './heads-read.ts';
import type { CaseDamage, CaseSummary, Damage } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { countListed } from './suspects.ts';

const headOf = ({ caseId, title, chartRef, entries, head }: CaseSummary): CaseHead => ({
  caseId,
  title,
  chartRef,
  entries,
  head,
});

/** What the comparison of the two homes left unmended. */
interface LeftOver {
  readonly damaged: readonly CaseDamage[];
  readonly garbled: number;
  /** The database was made anew. */
  readonly isNew: boolean;
}

/** How everything stands after a start, and what is missing. */
export async function headsAfter(
  database: JournalDatabase,
  o: { before: Heads; left: LeftOver },
): Promise<Heads> {
  const { left } = o;
  const { damage: before, cases: known, recent } = o.before;
  const still = await stillMissing(database, before.cases);
  const fresh = left.damaged.filter((one) => !still.some((told) => isTold(told, one)));
  const cases = await countListed(database);
  const isBare = left.isNew && cases === 0;
  const unreadable = isBare || left.damaged.length > 0 ? left.garbled : 0;
  const joined = joinDamage(
    { ...before, cases: still },
    { cases: fresh, unnamed: 0, unreadable, isNoted: false },
  );
  const named = await countGone(database, joined);
  // What is known holds those that were missing before: a restore can have brought some of them back.
  const unnamed = Math.max(0, known - cases - named);
  const isNoted = joined.isNoted && unnamed <= joined.unnamed;
  const damage = { ...joined, unnamed, isNoted };
  const now = await recentOf(database, recent);
  return { cases: cases + named + unnamed, recent: now, file: null, damage };
}

/** Cases of which nothing is left but what is told of them here. */
async function countGone(database: JournalDatabase, { cases }: Damage): Promise<number> {
  const summaries = await Promise.all(cases.map(({ caseId }) => database.get('cases', caseId)));
  return summaries.filter((summary) => summary === undefined).length;
}

/** Damage told before that is still there: a restore can have brought everything back. */
async function stillMissing(
  database: JournalDatabase,
  cases: readonly CaseDamage[],
): Promise<readonly CaseDamage[]> {
  const still: CaseDamage[] = [];
  for (const one of cases) {
    if ((await database.get('tombstones', one.caseId)) !== undefined) continue;
    if (!(await isWholeAgain(database, one))) still.push(one);
  }
  return still;
}

/** A case that goes on after its damage was told has still lost what it had lost then. */
const isTold = (told: CaseDamage, now: CaseDamage): boolean =>
  told.caseId === now.caseId && told.known >= now.known;

/** Whether the case has its last known entry again, and every entry before it. */
async function isWholeAgain(database: JournalDatabase, of: CaseDamage): Promise<boolean> {
  const { entries, verdict } = await readCase(database, of.caseId);
  return verdict.firstBad === null && entries[of.known - 1]?.hash === of.head;
}

/** Those remembered that are still here, as they stand; on a tablet that remembers none, the last. */
export async function recentOf(
  database: JournalDatabase,
  recent: readonly CaseHead[],
): Promise<readonly CaseHead[]> {
  const ids = recent.map(({ caseId }) => caseId);
  if (ids.length === 0) {
    const { store } = database.transaction('cases');
    let cursor = await store.index('lastEpoch').openKeyCursor(null, 'prev');
    while (cursor !== null && ids.length < RECENT_MAX) {
      ids.unshift(cursor.primaryKey);
      cursor = await cursor.continue();
    }
  }
  const summaries = await Promise.all(ids.map((id) => database.get('cases', id)));
  return summaries.flatMap((summary) => (summary === undefined ? [] : [headOf(summary)]));
}

/** Notes how a case was found; what was told of it before goes only when it is whole again. */
export async function noteFound(
  database: JournalDatabase,
  { heads, caseId, now }: { heads: HeadsKeeper; caseId: string; now: CaseDamage | null },
): Promise<void> {
  const { damage } = heads.heads;
  const told = damage.cases.find((one) => one.caseId === caseId);
  if (now !== null) {
    if (told !== undefined && isTold(told, now)) return;
    const more = { cases: [now], unnamed: 0, unreadable: 0, isNoted: false };
    await heads.keepDamage(database, joinDamage(damage, more));
  } else if (told !== undefined && (await isWholeAgain(database, told))) {
    const cases = damage.cases.filter((one) => one !== told);
    await heads.keepDamage(database, { ...damage, cases });
  }
}
