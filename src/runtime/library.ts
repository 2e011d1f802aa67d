/**
 * What the clinic keeps beside its cases: settings, prepared cases, protocols and their approvals,
 * stored as small documents. Everything read is parsed again: it may be older, or damaged.
 */
import type { Problem } from '../base/problem.ts';
import type { Approval } from '../engine/types.ts';
import { parseCase } from '../protocol/parse-case.ts';
import { parseProtocol } from '../protocol/parse-protocol.ts';
import type { CaseFile, Protocol } from '../protocol/types.ts';
import { canonicalText, hashText } from '../storage/hash-chain.ts';
import type { Journal } from '../storage/journal-types.ts';
import { DEFAULT_SETTINGS, type ProtocolEntry, type Settings } from './app-state.ts';

export const PREPARED_CASE = 'prepared-case';
export const SETTINGS = 'settings';
export const OWN_PROTOCOL = 'protocol';
export const APPROVAL = 'approval';
const SEEDED = 'seeded';
const ONLY = 'this-tablet';

/** SHA-256 over the RFC 8785 canonical JSON of a protocol, lower-case hex. */
export function protocolHash(protocol: Protocol): string {
  return hashText(canonicalText(protocol));
}

/** What the app ships with, as it was read at build time. */
export interface Shipped {
  readonly protocols: readonly unknown[];
  readonly cases: readonly unknown[];
}

export interface Library {
  readonly settings: Settings;
  readonly prepared: readonly CaseFile[];
  readonly protocols: readonly ProtocolEntry[];
  /** Documents that could not be read; they stay stored as they are. */
  readonly problems: readonly Problem[];
}

function pickSettings(stored: unknown): Settings {
  if (typeof stored !== 'object' || stored === null) return DEFAULT_SETTINGS;
  const known = new Map(Object.entries(stored));
  const kept = Object.entries(DEFAULT_SETTINGS).map(([key, fallback]) => {
    const value = known.get(key);
    const fits =
      typeof value === typeof fallback || (key === 'pxPerMm' && typeof value === 'number');
    return [key, fits && value !== undefined ? value : fallback];
  });
  return { ...DEFAULT_SETTINGS, ...Object.fromEntries(kept) };
}

function parseApproval(value: unknown): Approval | null {
  if (typeof value !== 'object' || value === null) return null;
  const { hash, by, onWallMs } = Object.fromEntries(Object.entries(value));
  const isWhole =
    typeof hash === 'string' && typeof by === 'string' && typeof onWallMs === 'number';
  return isWhole ? { hash, by, onWallMs } : null;
}

/** Reads everything the clinic keeps; what ships is there unless the clinic replaced it. */
export async function readLibrary(journal: Journal, shipped: Shipped): Promise<Library> {
  const problems: Problem[] = [];
  const list = async (kind: string) => {
    const found = await journal.documents.list(kind);
    if (!found.ok) problems.push(found.error);
    return found.ok ? found.value : [];
  };
  const settings = await journal.documents.get(SETTINGS, { id: ONLY });
  const approvals = (await list(APPROVAL)).flatMap((d) => parseApproval(d.value) ?? []);
  const entry = (value: unknown, origin: ProtocolEntry['origin']): ProtocolEntry[] => {
    const parsed = parseProtocol(value);
    if (!parsed.ok) {
      problems.push(...parsed.error);
      return [];
    }
    const hash = protocolHash(parsed.value);
    const approval = approvals.find((a) => a.hash === hash) ?? null;
    return [{ protocol: parsed.value, hash, approval, origin }];
  };
  const own = (await list(OWN_PROTOCOL)).flatMap((d) => entry(d.value, 'own'));
  const templates = shipped.protocols.flatMap((p) => entry(p, 'template'));
  const cases = (await list(PREPARED_CASE)).flatMap((d) => {
    const parsed = parseCase(d.value);
    if (!parsed.ok) problems.push(...parsed.error);
    return parsed.ok ? [parsed.value] : [];
  });
  return {
    settings: pickSettings(settings.ok ? settings.value : null),
    prepared: cases,
    protocols: [...own, ...templates],
    problems,
  };
}

/** Puts the demonstration cases on a fresh tablet, once; deleting them is final. */
export async function seedOnce(journal: Journal, shipped: Shipped, epoch: number): Promise<void> {
  const seeded = await journal.documents.get(SEEDED, { id: ONLY });
  if (!seeded.ok || seeded.value) return;
  for (const value of shipped.cases) {
    const parsed = parseCase(value);
    if (parsed.ok) await saveCase(journal, parsed.value, epoch);
  }
  await journal.documents.put({ kind: SEEDED, id: ONLY, value: true, epoch });
}

/** Keeps a prepared case under its id. */
export function saveCase(journal: Journal, spec: CaseFile, epoch: number) {
  return journal.documents.put({ kind: PREPARED_CASE, id: spec.id, value: spec, epoch });
}

/** Keeps the settings of this tablet. */
export function saveSettings(journal: Journal, settings: Settings, epoch: number) {
  return journal.documents.put({ kind: SETTINGS, id: ONLY, value: settings, epoch });
}
