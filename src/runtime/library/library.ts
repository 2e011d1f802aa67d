/**
 * What the clinic keeps beside its cases: settings, prepared cases, protocols and their approvals,
 * stored as small documents. Everything read is parsed again: it may be older, or damaged.
 */
import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parseCase } from '../../protocol/parse-case.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, JournalProblem, StoredDocument } from '../../storage/journal-types.ts';
import { timesIn } from '../../words/date-words.ts';
import { languageTag } from '../../words/language.ts';
import { isZone } from '../../words/zone.ts';
import { DEFAULT_SETTINGS, type ProtocolEntry, type Settings } from '../app-state.ts';
import { listFacts, type ReadFacts } from '../facts/fact.ts';
import { byItem } from '../facts/fact-history.ts';
import { type FactParts, type Saying, say } from '../facts/fact-writer.ts';
import { takeOverFacts } from '../facts/take-over-facts.ts';
import { protocolHash } from '../lead/lead-documents.ts';
import { currentRevision, type Revision, readRevisions } from '../lead/lead-revisions.ts';
import { MATERIAL } from '../stock/stock-types.ts';
import { type CaseSaid, caseName, preparedEntry, seenAs } from './case-facts.ts';
import { datedFrom, demoStock } from './demo.ts';

const PREPARED_CASE = 'prepared-case';
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
  /** By the id of a prepared case: what other tablets keep under it that did not know of this one. */
  readonly preparedTwice: ReadonlyMap<string, readonly CaseFile[]>;
  /** Names of those that cannot be read: an id where not even the title can. */
  readonly unreadPrepared: readonly string[];
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
  chartSystem: or(v.string(), D.chartSystem),
  procedureSystem: or(v.string(), D.procedureSystem),
  procedureCodes: or(v.string(), D.procedureCodes),
  byteOrderMark: or(v.boolean(), D.byteOrderMark),
  openingHours: or(v.array(v.string()), [...D.openingHours]),
  farViewOf: or(v.string(), D.farViewOf),
  recallMonths: or(v.pipe(v.number(), v.minValue(3), v.maxValue(24)), D.recallMonths),
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

const NO_FACTS: ReadFacts = { facts: [], damaged: [] };

/** What a damaged fact still says of the name of its case; else where it is about. */
function damagedName({ id, value }: StoredDocument): string {
  const { said, item } = fieldsOf(value);
  return caseName(fieldsOf(said)['spec'], typeof item === 'string' ? item : id);
}

const damagedFact = ({ kind, id }: StoredDocument): Problem =>
  problem(`${kind} ${id.slice(0, 8)}`, 'a fact as it was written', 'something else', 'damaged');

/** Reads everything the clinic keeps; what ships is there unless the clinic replaced it. */
export async function readLibrary(journal: Journal, shipped: Shipped): Promise<Library> {
  const problems: Problem[] = [];
  const settings = await journal.documents.get(SETTINGS, { id: ONLY });
  const revisions = await readRevisions(journal);
  problems.push(...revisions.problems);
  const told = await listFacts(journal, PREPARED_CASE);
  if (!told.ok) problems.push(told.error);
  const facts = told.ok ? told.value : NO_FACTS;
  const entries = [...byItem(facts.facts).values()].map(preparedEntry);
  const found = entries.flatMap(({ spec, others }) => (spec === null ? [] : [{ spec, others }]));
  found.sort((a, b) => (a.spec.id < b.spec.id ? -1 : 1));
  problems.push(...entries.flatMap((entry) => entry.problems));
  problems.push(...facts.damaged.map(damagedFact));
  return {
    settings: pickSettings(settings.ok ? settings.value : null),
    unreadPrepared: [
      ...entries.flatMap(({ unread }) => unread ?? []),
      ...facts.damaged.map(damagedName),
    ],
    prepared: found.map(({ spec }) => spec),
    preparedTwice: new Map(
      found.flatMap(({ spec, others }) => (others.length === 0 ? [] : [[spec.id, others]])),
    ),
    protocols: entriesOf(revisions.all, shippedProtocols(shipped)),
    problems,
  };
}

/** Puts the demonstration's cases and lots on a fresh tablet, once; deleting them is final. */
async function seedOnce(
  shipped: Shipped,
  { facts, zone }: { readonly facts: FactParts; readonly zone: string },
): Promise<void> {
  const { documents } = facts.journal;
  const seeded = await documents.get(SEEDED, { id: ONLY });
  const epoch = facts.epoch();
  if (!seeded.ok || seeded.value || epoch === null) return;
  const start = { nowMs: facts.nowWallMs(), times: timesIn({ zone, language: languageTag() }) };
  const specs = shipped.cases.flatMap((value) => {
    const parsed = parseCase(value);
    return parsed.ok ? [parsed.value] : [];
  });
  const tell = (about: Pick<Saying, 'kind' | 'item' | 'said'>) =>
    say(facts, { ...about, by: null });
  for (const spec of datedFrom(specs, start)) {
    const prepared: CaseSaid = { type: 'prepared', spec, demo: true };
    await tell({ kind: PREPARED_CASE, item: spec.id, said: [prepared] });
  }
  const { receivedSaid } = await import('../stock/stock-facts.ts');
  for (const lot of demoStock(shipped.stock, start)) {
    await tell({ kind: MATERIAL, item: lot.id, said: receivedSaid(lot, { isDemo: true }) });
  }
  await documents.put({ kind: SEEDED, id: ONLY, value: true, epoch });
}

/**
 * Gives a tablet its id and the clinic its zone, once: what the browser says then. A person changes
 * the zone; a tablet that travels does not. Returns the id of the tablet.
 */
async function settleOnce(
  journal: Journal,
  o: { readonly zone: string; readonly newId: () => string; readonly epoch: number },
): Promise<string> {
  const stored = await journal.documents.get(SETTINGS, { id: ONLY });
  if (!stored.ok) return '';
  const settings = pickSettings(stored.value);
  if (settings.zone !== '' && settings.tablet !== '') return settings.tablet;
  const zone = settings.zone === '' ? o.zone : settings.zone;
  const tablet = settings.tablet === '' ? o.newId() : settings.tablet;
  await saveSettings(journal, { ...settings, zone, tablet }, o.epoch);
  return tablet;
}

/**
 * Makes a tablet ready for its first screen: its id, what was kept in other ways before, and on a fresh one
 * the demonstration. Errors: the journal's.
 */
export async function furnish(
  shipped: Shipped,
  o: { readonly facts: FactParts; readonly zone: string; readonly newId: () => string },
): Promise<Result<null, JournalProblem>> {
  const { journal } = o.facts;
  const epoch = o.facts.epoch();
  if (epoch === null) return ok(null);
  const tablet = await settleOnce(journal, { zone: o.zone, newId: o.newId, epoch });
  const taken = await takeOverFacts(journal, { epoch, tablet });
  if (!taken.ok) return taken;
  await seedOnce(shipped, { facts: { ...o.facts, tablet: () => tablet }, zone: o.zone });
  return ok(null);
}

/** Settings with a zone that times can be told in: the tablet's own while this engine lacks theirs. */
export const withZone = (settings: Settings, zoneHere: string): Settings =>
  isZone(settings.zone) ? settings : { ...settings, zone: zoneHere };

/**
 * Keeps a prepared case under its id. Errors: `not-writer`, and the journal's.
 * @param over the case as it stood when the change was begun: what came meanwhile stays beside it. When
 * left out, this one holds over everything that is known.
 */
export function saveCase(parts: FactParts, spec: CaseFile, over?: CaseFile) {
  const said: CaseSaid = { type: 'prepared', spec };
  const seen = over === undefined ? {} : { seen: seenAs(over) };
  return say(parts, { kind: PREPARED_CASE, item: spec.id, said: [said], by: null, ...seen });
}

/** Puts a prepared case away. Errors: `not-writer`, and the journal's. */
export function putCaseAway(parts: FactParts, id: string) {
  const said: CaseSaid = { type: 'put-away' };
  return say(parts, { kind: PREPARED_CASE, item: id, said: [said], by: null });
}

/** Keeps the settings of this tablet. */
export function saveSettings(journal: Journal, settings: Settings, epoch: number) {
  return journal.documents.put({ kind: SETTINGS, id: ONLY, value: settings, epoch });
}
