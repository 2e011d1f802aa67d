/** What people changed in a record: presses taken back or moved, ways back, gaps, notes. Pure. */
import type { CaseEvent, Recorded } from '../../engine/types.ts';
import { gapWords } from '../words/clock-words.ts';
import { secondWords } from '../words/date-words.ts';
import { pressWords, stepOf } from '../words/offer-words.ts';
import { MISHAP_WORDS } from '../words/protocol-words.ts';
import { recordWords } from '../words/record-words.ts';
import { subjectsLabel } from '../words/subject-words.ts';
import { instantWords, type RecordFrame } from './record-frame.ts';

/** One line of a list in the record. */
export interface RecordNote {
  readonly id: string;
  /** "09:14:03". */
  readonly moment: string;
  readonly words: string;
  readonly who: string;
  /** What further belongs to it, such as the steps that no longer count. */
  readonly detail?: string;
}

function wordsOfPress(frame: RecordFrame, press: number): string {
  const events = frame.log.records.filter((r) => r.press === press).map((r) => r.event);
  return pressWords(events, frame.scene);
}

function changeWords(frame: RecordFrame, event: CaseEvent): string | null {
  switch (event.type) {
    case 'press-retracted':
      return recordWords.takenBack({
        press: event.press,
        what: wordsOfPress(frame, event.press),
        at: momentOfPress(frame, event.press),
      });
    case 'press-retimed':
      return recordWords.moved({
        press: event.press,
        what: wordsOfPress(frame, event.press),
        byMs: event.byMs,
      });
    case 'gap-settled':
      return recordWords.settled(event.lengthMs);
    case 'plan-changed':
      return recordWords.planChanged(event.reason);
    case 'mix-added':
      return recordWords.mixAdded({
        units: subjectsLabel(
          event.units.map((u) => `unit:${u}`),
          frame.scene.spec,
        ),
        reason: event.reason,
      });
    default:
      return null;
  }
}

function momentOfPress(frame: RecordFrame, press: number): string {
  const record = frame.log.records.find((r) => r.press === press);
  return record ? secondWords(record.stamp.wallMs) : '';
}

function noteOf(frame: RecordFrame, record: Recorded): RecordNote[] {
  const words = changeWords(frame, record.event);
  if (words === null) return [];
  const { seq, stamp, by } = record;
  return [{ id: `${seq}`, moment: secondWords(stamp.wallMs), words, who: frame.personOf(by) }];
}

/** Corrections as corrections: what was pressed first stays in the log. */
export function recordCorrections(frame: RecordFrame): RecordNote[] {
  return frame.log.records.flatMap((r) => noteOf(frame, r));
}

/** Ways back with their reasons and what no longer counts because of them. */
export function recordWaysBack(frame: RecordFrame): RecordNote[] {
  const { state, scene, log } = frame;
  return state.waysBack.map((taken) => {
    const record = log.records.find((r) => r.press === taken.press);
    const known = scene.protocol.waysBack.find((w) => w.id === taken.wayBack);
    const steps = state.voided
      .filter((v) => v.press === taken.press)
      .map((v) => v.key.slice(0, v.key.indexOf('@')));
    const titles = [...new Set(steps)].map((id) => stepOf(scene.protocol, id)?.title ?? id);
    return {
      id: String(taken.press),
      moment: record ? secondWords(record.stamp.wallMs) : '',
      words: recordWords.wayBack({
        subject: subjectsLabel(taken.subjects, scene.spec),
        title: known?.title ?? MISHAP_WORDS[taken.mishap],
        reason: taken.reason,
      }),
      who: frame.personOf(record?.by ?? null),
      ...(titles.length > 0 ? { detail: recordWords.voided(titles.join(', ')) } : {}),
    };
  });
}

/** Dead time and disagreements of the tablet's clocks. */
export function recordGaps(frame: RecordFrame): RecordNote[] {
  return frame.state.gaps.map((gap) => ({
    id: String(gap.seq),
    moment: instantWords(frame, gap.at),
    words: gapWords(gap),
    who: '',
    ...(gap.settled ? { detail: recordWords.gapSettled } : {}),
  }));
}

/** What people wrote, in the order they wrote it. */
export function recordRemarks(frame: RecordFrame): RecordNote[] {
  return frame.state.notes.map((note, index) => ({
    id: String(index),
    moment: instantWords(frame, note.at),
    words: note.words,
    who: frame.personOf(note.by),
  }));
}
