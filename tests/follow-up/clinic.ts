/** A tablet with its follow-up, and invented bondings. */
import { createStore } from 'zustand/vanilla';
import type { BondedCase, UnitFound, Visit } from '../../src/outcomes/follow-up-types.ts';
import { type AppState, DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { asFact, type Fact, keepFact } from '../../src/runtime/facts/fact.ts';
import type { FactParts } from '../../src/runtime/facts/fact-writer.ts';
import { FollowUps } from '../../src/runtime/follow-up/follow-ups.ts';
import type { AppStore } from '../../src/runtime/store.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, restoreInto, type Tablet, tabletOf } from '../facts/tablets.ts';

/** 1 December 2026, 10:00 in Lisbon. */
export const TODAY_MS = Date.UTC(2026, 11, 1, 10);

export interface WithFollowUps extends Tablet {
  readonly id: string;
  readonly facts: FactParts;
  readonly store: AppStore;
  readonly followUps: FollowUps;
  /** Another window of the same tablet, which reads everything anew. */
  readonly anew: () => FollowUps;
}

export async function withFollowUps(id: string): Promise<WithFollowUps> {
  const tablet = await tabletOf(id);
  const { journal, epoch } = tablet;
  const facts: FactParts = {
    journal,
    epoch: () => epoch,
    tablet: () => id,
    nowWallMs: () => TODAY_MS,
  };
  const settings = { ...DEFAULT_SETTINGS, zone: 'Europe/Lisbon', tablet: id };
  const store = createStore<AppState>(() => ({ settings, running: null }) as unknown as AppState);
  let made = 0;
  const newId = (): string => {
    made += 1;
    return `${id}${made}`;
  };
  const anew = () => new FollowUps({ ...facts, store, newId });
  return { ...tablet, id, facts, store, followUps: anew(), anew };
}

/** Two veneers and a bridge, bonded on 1 January 2026. */
export const bonded = (change: Partial<BondedCase> = {}): BondedCase => ({
  what: 'bonded',
  patient: 'C-101',
  title: 'Two veneers and a bridge',
  bondedOn: '2026-01-01',
  protocol: { id: 'veneers', title: 'Veneers', revision: 3, hash: 'a'.repeat(64) },
  people: [{ role: 'dentist', label: 'RS' }],
  lots: [{ materialClass: 'adhesive', lot: 'L-7' }],
  units: [
    unit('11', ['11']),
    unit('21', ['21']),
    { ...unit('13-15', ['13', '15']), isBridge: true, restoration: 'bridge' },
  ],
  ...change,
});

const unit = (id: string, teeth: readonly string[]) => ({
  unit: id,
  teeth,
  isBridge: false,
  restoration: 'veneer',
  material: 'lithium-disilicate',
  limits: [{ limit: 'window/open-adhesive', title: 'Open adhesive', state: 'kept' as const }],
});

export const visit = (onDay: string, ...units: readonly UnitFound[]): Visit => ({
  onDay,
  examiner: 'TK',
  isOwnWork: false,
  units,
});

export const found = (
  of: string,
  finding: UnitFound['findings'][number],
  more: Partial<UnitFound> = {},
): UnitFound => ({ unit: of, findings: [finding], ...more });

/** What a tablet of the clinic says of a case that it bonded. */
export async function keepBonded(
  { journal, epoch, id }: WithFollowUps,
  o: { readonly caseId: string; readonly said?: unknown; readonly after?: readonly string[] },
): Promise<Fact> {
  const { caseId: item, said = bonded(), after = [] } = o;
  const fact = asFact({ kind: 'follow-up', item, said, after, tablet: id, by: null, atWallMs: 1 });
  must(await keepFact(journal, fact, epoch));
  return fact;
}

/** Each has everything of the other. */
export async function meet(a: Tablet, b: Tablet): Promise<void> {
  await restoreInto(a, await backupOf(b));
  await restoreInto(b, await backupOf(a));
}
