/**
 * What the clinic keeps beside its cases: settings, prepared cases, protocols and their approvals,
 * stored as small documents. Everything read is parsed again: it may be older, or damaged.
 */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { timesIn } from '../../words/date-words.ts';
import { languageTag } from '../../words/language.ts';
import { isZone } from '../../words/zone.ts';
import { DEFAULT_SETTINGS, type ProtocolEntry, type Settings } from '../app-state.ts';
import { protocolHash } from '../lead/lead-documents.ts';
import { currentRevision, type Revision, readRevisions } from '../lead/lead-revisions.ts';
import { MATERIAL } from '../stock/stock-types.ts';
import { datedFrom, demoStock } from './demo.ts';

export const PREPARED_CASE = 'prepared-case';
export const SETTINGS = 'settings';
const SEEDED = 'seeded';
const ONLY = 'this-tablet';

/** What the app ships with, as it was read at build time. */
export interface Shipped {
  readonly protocols: readonly unknown[];
  readonly cases: readonly unknown[];
  /** Invented lots for a fresh tablet, as `demo-data/stock.json` has them. */
  readonly stock?: unknown;
  /** What the shipped protocols correct in those before them; read only where it is asked for. */
  readonly corrections?: () => Promise<unknown>;
  /** Reference tables of the figures; null when they could not be read. */
  readonly tables: PlanTables | null;
}

interface Library {
  readonly settings: Settings;
  readonly prepared: readonly CaseFile[];
  readonly protocols: readonly ProtocolEntry[];
  /** Documents that could not be read; they stay stored as they are. */
  readonly problems: readonly Problem[];
}

const or = <const Schema extends v.GenericSchema>(
  schema: Schema,
  fallback: v.InferOutput<Schema>,
): v.SchemaWithFallback<Schema, v.InferOutput<Schema>> => v.fallback(schema, fallback);

const D = DEFAULT_SETTINGS;
/** A setting that is missing or does not fit is as on a new tablet; the others stay. */
const settingsSchema = v.object({
  clinic: or(v.string(), D.clinic),
  zone: or(v.string(), D.zone),
  tablet: or(v.string(), D.tablet),
  notation: or(v.picklist(['fdi', 'universal', 'palmer']), D.notation),
  theme: or(v.picklist(['auto', 'light', 'dark']), D.theme),
  amber: or(v.boolean(), D.amber),
  volume: or(v.number(), D.volume),
  spoken: or(v.boolean(), D.spoken),
  leftHanded: or(v.boolean(), D.leftHanded),
  distanceM: or(v.number(), D.distanceM),
  pxPerMm: or(v.nullable(v.number()), D.pxPerMm),
  extraKeys: or(v.array(v.string()), [...D.extraKeys]),
  heardAtMs: or(v.nullable(v.number()), D.heardAtMs),
  heardBy: or(v.string(), D.heardBy),
  heardVolume: or(v.number(), D.heardVolume),
  emergencyNumber: or(v.string(), D.emergencyNumber),
  emergencyProtocol: or(v.string(), D.emergencyProtocol),
  poisonNumber: or(v.string(), D.poisonNumber),
});

function pickSettings(stored: unknown): Settings {
  return parsedOr(settingsSchema, stored) ?? DEFAULT_SETTINGS;
}

/**
 * One entry a protocol: the confirmed revision if there is one, else what ships under that id, else
 * the newest revision without its approval, so that it can be rehearsed.
 */
function entriesOf(
  revisions: readonly Revision[],
  templates: readonly Protocol[],
): readonly ProtocolEntry[] {
  const own = [...new Set(revisions.map((r) => r.protocol.id))].flatMap((id): ProtocolEntry[] => {
    const current = currentRevision(revisions, id);
    if (current !== null) {
      const { protocol, hash, approval } = current;
      return [{ protocol, hash, approval, origin: 'own' }];
    }
    if (templates.some((template) => template.id === id)) return [];
    const newest = revisions.find((r) => r.protocol.id === id);
    if (newest === undefined) return [];
    return [{ protocol: newest.protocol, hash: newest.hash, approval: null, origin: 'own' }];
  });
  const taken = new Set(own.map((entry) => entry.protocol.id));
  const shipped = templates
    .filter(({ id }) => !taken.has(id))
    .map((protocol): ProtocolEntry => {
      return { protocol, hash: protocolHash(protocol), approval: null, origin: 'template' };
    });
  return [...own, ...shipped];
}

const parsedOnce = new WeakMap<Shipped, readonly Protocol[]>();

/** The protocols that ship, those that can be read. */
export function shippedProtocols(shipped: Shipped): readonly Protocol[] {
  const known = parsedOnce.get(shipped);
  if (known !== undefined) return known;
  const protocols = shipped.protocols.flatMap((value) => {
    const parsed = parseProtocol(value);
    return parsed.ok ? [parsed.value] : [];
  });
  parsedOnce.set(shipped, protocols);
  return protocols;
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
  const revisions = await readRevisions(journal);
  problems.push(...revisions.problems);
  const cases = (await list(PREPARED_CASE)).flatMap((d) => {
    const parsed = parseCase(d.value);
    if (!parsed.ok) problems.push(...parsed.error);
    return parsed.ok ? [parsed.value] : [];
  });
  return {
    settings: pickSettings(settings.ok ? settings.value : null),
    prepared: cases,
    protocols: entriesOf(revisions.all, shippedProtocols(shipped)),
    problems,
  };
}

/** Puts the demonstration's cases and lots on a fresh tablet, once; deleting them is final. */
export async function seedOnce(
  journal: Journal,
  shipped: Shipped,
  o: { readonly epoch: number; readonly zone: string; readonly nowMs: number },
): Promise<void> {
  const { epoch, zone, nowMs } = o;
  const seeded = await journal.documents.get(SEEDED, { id: ONLY });
  if (!seeded.ok || seeded.value) return;
  const start = { nowMs, times: timesIn({ zone, language: languageTag() }) };
  const specs = shipped.cases.flatMap((value) => {
    const parsed = parseCase(value);
    return parsed.ok ? [parsed.value] : [];
  });
  for (const spec of datedFrom(specs, start)) await saveCase(journal, spec, epoch);
  for (const lot of demoStock(shipped.stock, start)) {
    await journal.documents.put({ kind: MATERIAL, id: lot.id, value: lot, epoch });
  }
  await journal.documents.put({ kind: SEEDED, id: ONLY, value: true, epoch });
}

/**
 * Gives a tablet its id and the clinic its zone, once: what the browser says then. A person changes
 * the zone; a tablet that travels does not.
 */
export async function settleOnce(
  journal: Journal,
  o: { readonly zone: string; readonly newId: () => string; readonly epoch: number },
): Promise<void> {
  const stored = await journal.documents.get(SETTINGS, { id: ONLY });
  if (!stored.ok) return;
  const settings = pickSettings(stored.value);
  if (settings.zone !== '' && settings.tablet !== '') return;
  const zone = settings.zone === '' ? o.zone : settings.zone;
  const tablet = settings.tablet === '' ? o.newId() : settings.tablet;
  await saveSettings(journal, { ...settings, zone, tablet }, o.epoch);
}

/** Settings with a zone that times can be told in: the tablet's own while this engine lacks theirs. */
export const withZone = (settings: Settings, zoneHere: string): Settings =>
  isZone(settings.zone) ? settings : { ...settings, zone: zoneHere };

/** Keeps a prepared case under its id. */
export function saveCase(journal: Journal, spec: CaseFile, epoch: number) {
  return journal.documents.put({ kind: PREPARED_CASE, id: spec.id, value: spec, epoch });
}

/** Keeps the settings of this tablet. */
export function saveSettings(journal: Journal, settings: Settings, epoch: number) {
  return journal.documents.put({ kind: SETTINGS, id: ONLY, value: settings, epoch });
}
