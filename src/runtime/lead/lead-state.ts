/** What the screens of the clinic lead's desk are drawn from, and when a draft can be confirmed. */
import { type Problem, problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { checkProtocol } from '../../protocol/check-protocol.ts';
import type { Correction } from '../../protocol/corrections.ts';
import { unconfirmedFigures } from '../../protocol/edit-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { ProtocolDraft } from './lead-drafts.ts';
import type { LeadLog, OtherLog } from './lead-log.ts';
import type { RefusedDocument, Revision } from './lead-revisions.ts';

export interface LeadState {
  /** False until the tablet's documents were read. */
  readonly isRead: boolean;
  readonly isOpen: boolean;
  /** Whether a passphrase was ever set, and by whom. */
  readonly keeper: string | null;
  readonly canLock: boolean;
  /** Why the desk closed by itself, to be said on the screen. */
  readonly closedBecause: 'idle' | 'left' | 'by-hand' | null;
  /** Wall clock before which no attempt is taken. */
  readonly waitUntilWallMs: number;
  readonly drafts: readonly ProtocolDraft[];
  readonly revisions: readonly Revision[];
  readonly refused: readonly RefusedDocument[];
  readonly log: LeadLog;
  /** Whether two people confirm each revision, as the log says. */
  readonly asksSecond: boolean;
  /** Logs of other tablets' desks, as backups told them. */
  readonly otherLogs: readonly OtherLog[];
  /** What ships, whatever is in force here. */
  readonly templates: readonly Protocol[];
  /** What the templates correct; a problem where the file of it cannot be read. */
  readonly corrections: Result<readonly Correction[], Problem>;
}

/** Before anything was read. */
export const FIRST_LEAD_STATE: LeadState = {
  isRead: false,
  isOpen: false,
  keeper: null,
  canLock: true,
  closedBecause: null,
  waitUntilWallMs: 0,
  drafts: [],
  revisions: [],
  refused: [],
  log: { entries: [], broken: 0, isOpenBreak: false },
  asksSecond: false,
  otherLogs: [],
  templates: [],
  corrections: ok([]),
};

/** Why a protocol cannot be confirmed as it stands; null when it can. */
export function refusedConfirmation(protocol: Protocol): Problem | null {
  const fault = checkProtocol(protocol).find(({ level }) => level === 'error');
  if (fault !== undefined) {
    return problem(fault.place, 'a protocol without faults', fault.code, 'faults');
  }
  const misquoted = checkProtocol(protocol).find(({ code }) => code === 'quote-differs');
  if (misquoted !== undefined) {
    const came = String(misquoted.values['value'] ?? '');
    return problem(misquoted.place, 'the number that its quote gives', came, 'quote-differs');
  }
  const open = unconfirmedFigures(protocol);
  const first = open[0];
  if (first === undefined) return null;
  const place = `${first.spot.part}.${first.spot.id}.${first.spot.key}`;
  const came = `${open.length} without`;
  return problem(place, 'an instruction behind every number', came, 'unconfirmed-figures');
}
