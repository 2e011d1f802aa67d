/**
 * Which corrections of the shipped templates the clinic lead has not answered. An answer is the
 * revision in force itself, or an entry of the desk's log that says why the clinic's own figure is
 * kept. It is bound to the template's hash: a later template asks anew.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Unanswered } from '../../engine/unanswered-types.ts';
import { type Correction, parseCorrections } from '../../protocol/corrections.ts';
import {
  type Compared,
  openCorrections,
  type TemplateCorrection,
} from '../../protocol/open-corrections.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { OpenCorrections, ProtocolEntry } from '../app-state.ts';
import type { TimerHost } from '../device/timer-host.ts';
import { type Shipped, shippedProtocols } from '../library/library.ts';
import { protocolHash } from './lead-documents.ts';
import { type LeadLog, readLeadLogs } from './lead-log.ts';

/** Why the clinic keeps its own figure, and who said so. */
export interface KeptAnswer {
  readonly reason: string;
  readonly by: string;
  readonly atWallMs: number;
}

/** One answer that keeps what is in force. */
export interface OursKept {
  readonly protocol: string;
  /** Hash of the template that it answers. */
  readonly template: string;
  readonly place: string;
  /** Of the entry that the place is in. */
  readonly title: string;
  readonly reason: string;
}

/** One protocol that is in force here, beside the template that ships under its id. */
export interface CorrectedProtocol extends Compared {
  readonly inForce: Protocol;
  readonly hash: string;
  readonly template: Protocol;
  readonly templateHash: string;
  /** Answers of the log, by the place of the correction. */
  readonly kept: ReadonlyMap<string, KeptAnswer>;
  /** Corrections without an answer, what could hurt first. */
  readonly open: readonly TemplateCorrection[];
}

type Entries = LeadLog['entries'];

function keptIn(entries: Entries, o: { readonly protocol: string; readonly template: string }) {
  return new Map(
    entries.flatMap((entry): [string, KeptAnswer][] => {
      const { deed, values, by, atWallMs, vouches } = entry;
      const isHere = values['protocol'] === o.protocol && values['template'] === o.template;
      if (deed !== 'correction-kept' || !vouches || !isHere) return [];
      return [[String(values['place']), { reason: String(values['reason']), by, atWallMs }]];
    }),
  );
}

/** Whether a revision was drafted, in however many steps, from this very template. */
function isDraftedFrom(
  entries: Entries,
  o: { readonly hash: string; readonly template: string },
): boolean {
  const from = new Map(
    entries.flatMap(({ deed, values, vouches }): [string, string][] =>
      deed === 'confirmed' && vouches && values['from'] !== undefined
        ? [[String(values['hash']), String(values['from'])]]
        : [],
    ),
  );
  const seen = new Set<string>();
  for (let at: string | undefined = o.hash; at !== undefined && !seen.has(at); at = from.get(at)) {
    if (at === o.template) return true;
    seen.add(at);
  }
  return false;
}

/** What the template corrects in this entry; null where nothing confirmed is in force beside one. */
export function correctedProtocol(
  entry: ProtocolEntry,
  o: {
    readonly templates: readonly Protocol[];
    readonly rows: readonly Correction[];
    readonly entries: Entries;
  },
): CorrectedProtocol | null {
  const { protocol: inForce, hash } = entry;
  const template = o.templates.find(({ id }) => id === inForce.id);
  if (template === undefined || entry.approval === null || entry.origin !== 'own') return null;
  const templateHash = protocolHash(template);
  // What was drafted from the template itself has nothing older in it to be corrected.
  const isNewer = isDraftedFrom(o.entries, { hash, template: templateHash });
  const compared = openCorrections({ inForce, template, rows: isNewer ? [] : o.rows });
  const kept = keptIn(o.entries, { protocol: inForce.id, template: templateHash });
  const open = compared.corrections.filter(({ id }) => !kept.has(id));
  return { ...compared, inForce, hash, template, templateHash, kept, open };
}

/** What could hurt and has no answer; null where nothing has to be said. */
function unansweredOf({ open, templateHash }: CorrectedProtocol): Unanswered | null {
  const corrections = open.flatMap(({ id, change, rows, hurts }) => {
    const told = rows.find((row) => row.hurts);
    if (!hurts || told === undefined) return [];
    return [{ place: id, title: change.title, reason: told.reason }];
  });
  return corrections.length === 0 ? null : { template: templateHash, corrections };
}

const known = new WeakMap<Shipped, readonly Correction[]>();

/** The shipped file, read once. Errors: its first fault, or that it is not there. */
export async function shippedCorrections(
  shipped: Shipped,
): Promise<Result<readonly Correction[], Problem>> {
  const before = known.get(shipped);
  if (before !== undefined) return ok(before);
  if (shipped.corrections === undefined) return ok([]);
  try {
    const read = parseCorrections(await shipped.corrections());
    if (read.ok) known.set(shipped, read.value);
    return read;
  } catch (thrown) {
    const expected = 'the file that ships with the app';
    return err(problem('corrections', expected, String(thrown), 'not-there'));
  }
}

export interface UnansweredParts {
  readonly journal: Journal;
  readonly shipped: Shipped;
  readonly timers: Pick<TimerHost, 'after'>;
}

/** A file that does not come must keep nobody from the first screen, nor from beginning a case. */
const WAIT_MS_MAX = 2_000;

/** What is unanswered on these protocols; nothing where the file does not come in time. */
export async function readUnansweredInTime(
  { journal, shipped, timers }: UnansweredParts,
  protocols: readonly ProtocolEntry[],
): Promise<readonly OpenCorrections[]> {
  let isOver: () => void = () => undefined;
  const tooLate = new Promise<readonly OpenCorrections[]>((resolve) => {
    isOver = timers.after(WAIT_MS_MAX, () => resolve([]));
  });
  const first = await Promise.race([readUnanswered({ journal, shipped, protocols }), tooLate]);
  isOver();
  return first;
}

/** What has to be said before a patient case begins on one of these protocols. */
export async function readUnanswered(o: {
  readonly journal: Journal;
  readonly shipped: Shipped;
  readonly protocols: readonly ProtocolEntry[];
}): Promise<readonly OpenCorrections[]> {
  const [read, log] = await Promise.all([shippedCorrections(o.shipped), readLeadLogs(o.journal)]);
  if (!read.ok) return [];
  const around = {
    templates: shippedProtocols(o.shipped),
    rows: read.value,
    entries: log.ok ? log.value.log.entries : [],
  };
  return o.protocols.flatMap((entry): OpenCorrections[] => {
    const corrected = correctedProtocol(entry, around);
    const unanswered = corrected === null ? null : unansweredOf(corrected);
    if (unanswered === null) return [];
    const { id, title } = entry.protocol;
    return [{ protocol: id, title, unanswered }];
  });
}
