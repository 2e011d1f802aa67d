/** What people changed in a record: presses taken back or moved, ways back, gaps, notes. Pure. */
import { unreachable } from '../../../base/assert.ts';
import { breachId, gapId, skippedId, voidedId } from '../../../engine/sign-list.ts';
import type { CorrectionFact, PressFact, WayBackFact } from '../../../export/record-types.ts';
import { saidOf } from '../../../export/said-words.ts';
import { breachWords } from '../../../words/breach-words.ts';
import { gapWords } from '../../../words/clock-words.ts';
import { formatWords } from '../../../words/duration.ts';
import { pressWords, stepOf } from '../../../words/offer-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { movedWords, recordWords, wayBackLine } from '../../../words/record-words.ts';
import { subjectsLabel } from '../../../words/subject-words.ts';
import { clockWords, instantWords, type RecordFrame, wallOf } from './record-frame.ts';

/** One line of a list in the record. */
export interface RecordNote {
  readonly id: string;
  /** "09:14:03". */
  readonly moment: string;
  readonly words: string;
  readonly who: string;
  /** What further belongs to it, such as the steps that no longer count. */
  readonly detail?: string;
  /** What was said of it at the signature. */
  readonly said?: string;
}

/** What was said of something at the signature, where something was. */
export function saidIn({ facts }: RecordFrame, id: string): Pick<RecordNote, 'said'> {
  const said = saidOf(facts, id);
  return said === '' ? {} : { said: recordWords.said(said) };
}

function wordsOfPress(frame: RecordFrame, { press }: PressFact): string {
  const events = frame.log.records.filter((r) => r.press === press).map((r) => r.event);
  return pressWords(events, frame.scene);
}

function changeWords(frame: RecordFrame, fact: CorrectionFact): string {
  switch (fact.kind) {
    case 'taken-back': {
      const { press, pressedUtc } = fact.of;
      const at = clockWords(frame, pressedUtc);
      return recordWords.takenBack({ press, what: wordsOfPress(frame, fact.of), at });
    }
    case 'moved': {
      const what = wordsOfPress(frame, fact.of);
      return movedWords({ press: fact.of.press, what, byMs: fact.byMs });
    }
    case 'gap-settled':
      return recordWords.settled(formatWords(fact.lengthMs));
    case 'plan-changed':
      return recordWords.planChanged(fact.reason);
    case 'mix-added': {
      const units = fact.units.map((u) => `unit:${u}`);
      const { reason } = fact;
      return recordWords.portionAdded({ units: subjectsLabel(units, frame.scene.spec), reason });
    }
    default:
      return unreachable(fact);
  }
}

/** Corrections as corrections: what was pressed first stays in the log. */
export function recordCorrections(frame: RecordFrame): RecordNote[] {
  return frame.facts.corrections.map((fact, n) => ({
    id: `${n}`,
    moment: clockWords(frame, fact.pressed.pressedUtc),
    words: changeWords(frame, fact),
    who: fact.pressed.by ?? '',
    ...(fact.isInForce ? {} : { detail: recordWords.correctionUndone }),
  }));
}

function wayBackWords({ scene }: RecordFrame, taken: WayBackFact): string {
  return wayBackLine({
    subject: subjectsLabel(taken.subjects, scene.spec),
    title: taken.title ?? protocolWords.mishaps[taken.mishap],
    reason: taken.reason,
  });
}

/** What a note is about, in words; as it was written where it is about nothing that is listed. */
function aboutWords(frame: RecordFrame, id: string): string {
  const { facts, scene } = frame;
  const breach = facts.breaches.find((b) => breachId(b) === id);
  if (breach) return breachWords(breach, scene);
  const gap = facts.gaps.find(({ seq }) => gapId(seq) === id);
  if (gap) return gapWords({ cause: gap.cause, ...gap.length, untrusted: gap.isUntrusted });
  const taken = facts.waysBack.find(({ pressed }) => voidedId(pressed.press) === id);
  if (taken) return wayBackWords(frame, taken);
  const skipped = facts.steps.find(({ reason }) => reason !== null && skippedId(reason) === id);
  return skipped?.reason ? recordWords.skippedFor(skipped.reason) : id;
}

/** Ways back with their reasons and what no longer counts because of them. */
export function recordWaysBack(frame: RecordFrame): RecordNote[] {
  const { facts, scene } = frame;
  return facts.waysBack.map((taken) => {
    const steps = taken.voided.map((key) => key.slice(0, key.indexOf('@')));
    const titles = [...new Set(steps)].map((id) => stepOf(scene.protocol, id)?.title ?? id);
    return {
      id: String(taken.pressed.press),
      moment: clockWords(frame, taken.pressed.pressedUtc),
      words: wayBackWords(frame, taken),
      who: taken.pressed.by ?? '',
      ...saidIn(frame, voidedId(taken.pressed.press)),
      ...(titles.length > 0 ? { detail: recordWords.voided(titles) } : {}),
    };
  });
}

/** Dead time and disagreements of the tablet's clocks, as long as something was timed. */
export function recordGaps(frame: RecordFrame): RecordNote[] {
  const { facts } = frame;
  const endMs = facts.signOff?.at.hiMs ?? Number.POSITIVE_INFINITY;
  const timed = facts.gaps.filter(({ at }) => at.loMs < endMs);
  return timed.map(({ seq, cause, at, length, isSettled, isUntrusted }) => ({
    id: String(seq),
    moment: instantWords(frame, at),
    words: gapWords({ cause, ...length, untrusted: isUntrusted }),
    who: '',
    ...saidIn(frame, gapId(seq)),
    ...(isSettled ? { detail: recordWords.gapSettled } : {}),
  }));
}

/** What people wrote, in the order they wrote it; what came after the signature says so. */
export function recordRemarks(frame: RecordFrame): RecordNote[] {
  return frame.facts.notes.map(({ at, words, about, pressed, isLate }, n) => ({
    id: String(n),
    moment: isLate ? frame.times.moment(wallOf(pressed.pressedUtc)) : instantWords(frame, at),
    words: about === null ? words : recordWords.told({ of: aboutWords(frame, about), what: words }),
    who: pressed.by ?? '',
    ...(isLate ? { detail: recordWords.late } : {}),
  }));
}
