/** The lines of the list in hand as rows: what each says, what it asks, what was answered. Pure. */

import { layoutOf } from '../../engine/layout.ts';
import { isAnswered, isTaken, type LineDraft, lineKey } from '../../engine/list-draft.ts';
import type { ListLine } from '../../engine/pressing-types.ts';
import { readBackOf } from '../../engine/read-back.ts';
import type { Step } from '../../protocol/types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { LightReading, Material } from '../../runtime/stock/stock-types.ts';
import type { Times } from '../../words/date-words.ts';
import { listWords } from '../../words/list-words.ts';
import { stepOf } from '../../words/offer-words.ts';
import { readBackWords } from '../../words/read-back-words.ts';
import { stepTexts } from '../../words/step-texts.ts';
import { subjectLabel, subjectsLabel } from '../../words/subject-words.ts';
import { namingOf } from '../shared/arch-model.ts';
import { type ChairSlot, chairSlots } from '../shared/materials-chair-model.ts';
import { listInHand, takenOfList } from './chair-model.ts';
import { isNumber, isOutside, type TypedEvidence, typedWords } from './typed-model.ts';

type Asked =
  | {
      readonly kind: 'option' | 'choice';
      readonly options: readonly { readonly id: string; readonly label: string }[];
    }
  | { readonly kind: 'typed'; readonly evidence: TypedEvidence }
  | { readonly kind: 'lot'; readonly slot: ChairSlot };

export interface ListRow {
  readonly key: string;
  readonly line: ListLine;
  /** The step, with whom it is about where that is not the case. */
  readonly title: string;
  readonly instruction: string | undefined;
  /** What is read aloud with it. */
  readonly read: readonly string[];
  /** Null where a tick is enough. */
  readonly asked: Asked | null;
  readonly draft: LineDraft;
  readonly isAnswered: boolean;
  /** A press takes it. */
  readonly isTaken: boolean;
  /** It is ticked, and a line before it is open that has to be taken first. */
  readonly isHeld: boolean;
}

function askedOf({ action }: Step, { wants }: ListLine, slots: readonly ChairSlot[]): Asked | null {
  if (action.kind === 'choose') return { kind: 'option', options: action.options };
  const evidence = action.kind === 'confirm' ? action.evidence : undefined;
  switch (evidence?.kind) {
    case 'choice':
      return { kind: 'choice', options: evidence.options };
    case 'reading':
    case 'note':
      return { kind: 'typed', evidence };
    case 'material': {
      const slot = slots.find(({ id }) => id === evidence.slot);
      return slot === undefined || (wants === null && slot.named === null)
        ? null
        : { kind: 'lot', slot };
    }
    default:
      return null;
  }
}

/** Whether a line is about everything that its step is done to: then its title says enough. */
function isOfAll({ log }: RunningCase, { step, subjects }: ListLine): boolean {
  const { rounds } = layoutOf(log.state);
  return (rounds.get(step) ?? []).flat().length === subjects.length;
}

/** "Clean seal 14, 24". */
export function lineTitle(running: RunningCase, line: ListLine): string {
  const { protocol, spec } = namingOf(running);
  const title = stepOf(protocol, line.step)?.title ?? line.step;
  return listWords.line({
    title,
    subject: isOfAll(running, line) ? '' : subjectsLabel(line.subjects, spec),
  });
}

/** Every line of the list in hand, in order; none where something else is in hand. */
export function listRows(running: RunningCase, materials: readonly Material[]): readonly ListRow[] {
  const naming = namingOf(running);
  const { protocol, spec } = naming;
  const slots = chairSlots(running, materials);
  const nameOf = (subject: string) => subjectLabel(subject, spec);
  const list = listInHand(running);
  const taken = new Set(list === null ? [] : takenOfList(running, list).map(lineKey));
  return (list?.lines ?? []).flatMap((line): ListRow[] => {
    const step = stepOf(protocol, line.step);
    if (step === undefined) return [];
    const { subjects } = line;
    const key = lineKey(line);
    const draft = running.answers[key] ?? {};
    const read = readBackOf(running.log.state, step, { now: running.view.at, subjects }) ?? [];
    return [
      {
        key,
        line,
        title: lineTitle(running, line),
        instruction: stepTexts(step, subjects, naming).instruction,
        read: readBackWords(read, { nameOf }),
        asked: askedOf(step, line, slots),
        draft,
        isAnswered: isAnswered(line, draft),
        isTaken: taken.has(key),
        isHeld: isTaken(line, draft) && !taken.has(key),
      },
    ];
  });
}

/** What was typed on a line. Outside its bounds it is recorded only once somebody ticks it. */
export function typedDraft(text: string, evidence: TypedEvidence, running: RunningCase): LineDraft {
  const isGiven = text.trim() !== '' && (evidence.kind === 'note' || isNumber(text));
  if (!isGiven) return { text };
  const told = typedWords(text, evidence, namingOf(running).spec.light);
  return isOutside(text, evidence)
    ? { text, evidence: told, isTicked: false }
    : { text, evidence: told };
}

/** What is wrong with what was typed: the place, what was expected, what came. */
export function typedProblem(row: ListRow, evidence: TypedEvidence): string | undefined {
  const came = row.draft.text?.trim() ?? '';
  if (evidence.kind !== 'reading' || came === '') return undefined;
  const { min, max, unit } = evidence;
  const bounds = { place: row.title, min, max, unit, came };
  if (!isNumber(came)) return listWords.noNumber(bounds);
  return isOutside(came, evidence) ? listWords.outside(bounds) : undefined;
}

/** The newest reading of the light of the case that was taken on this day. */
export function readingToday(
  running: RunningCase,
  readings: readonly LightReading[],
  times: Times,
): string | null {
  const { light } = namingOf(running).spec;
  const today = times.isoDay(running.now.wallMs);
  const own = readings
    .filter((r) => r.light === light.label && times.isoDay(r.onWallMs) === today)
    .toSorted((a, b) => b.onWallMs - a.onWallMs);
  const [newest] = own;
  return newest === undefined ? null : String(newest.irradianceMwPerCm2);
}

/** Whether a line asks for a reading of the light that may be known already, and nobody touched it yet. */
export function wantsReading({ asked, draft, line }: ListRow): boolean {
  return (
    line.wants === 'reading' &&
    asked?.kind === 'typed' &&
    asked.evidence.kind === 'reading' &&
    asked.evidence.against === 'light-baseline' &&
    Object.keys(draft).length === 0
  );
}
