/**
 * The texts of a step for those whom one press is about: a text written for all teeth or units is not
 * used for a part of them, nor for the only one of a case. Everything that shows a step asks here.
 */
import type { CaseFile } from '../protocol/case-types.ts';
import { allHold } from '../protocol/conditions.ts';
import { standingOf } from '../protocol/own-step.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import { subjectsLabel } from './subject-words.ts';

/** What names the things of a case: its steps by the protocol, its teeth and units by its file. */
export interface CaseNaming {
  readonly protocol: Protocol;
  readonly spec: CaseFile;
}

export type StepTexts = Pick<Step, 'instruction' | 'words'>;

/** What a case file says of a subject, by its own name and by the unit that carries it. */
export function standsFor(subject: string, spec: CaseFile) {
  const id = bareId(subject);
  const units = spec.units.filter((unit) => unit.id === id || unit.teeth.includes(id));
  return standingOf(spec, { units: units.map((unit) => unit.id), teeth: [id] });
}

const counts = new WeakMap<CaseNaming, Map<Step, number>>();

/** How many teeth or units of the case the step is done to; null for what is neither. */
function countOf(step: Step, naming: CaseNaming): number | null {
  if (step.per !== 'unit' && step.per !== 'tooth') return null;
  const known = counts.get(naming) ?? new Map<Step, number>();
  counts.set(naming, known);
  const count = known.get(step) ?? countedIn(step, naming);
  known.set(step, count);
  return count;
}

function countedIn(step: Step, { protocol, spec }: CaseNaming): number {
  const own = spec.units.flatMap(({ id, teeth }) => (step.per === 'unit' ? [id] : teeth));
  const facts = { spec, protocol };
  return own.filter((id) => allHold(step.where, facts, standsFor(`${step.per}:${id}`, spec)))
    .length;
}

/**
 * Fewer than the step has in this case, as after a way back of one unit. Words of a round are of the round,
 * but for one alone.
 */
function isOfFewer(step: Step, subjects: readonly string[], naming: CaseNaming): boolean {
  if (step.together !== true) return false;
  const count = countOf(step, naming);
  if (count === null || subjects.length >= count) return false;
  return step.roundOf === undefined || subjects.length === 1;
}

type Words = NonNullable<Step['words']>;

/** Of a document that has no texts for some, only words that name their subject fit fewer than all. */
function namingSubject(words: Words | undefined): Words {
  const entries = Object.entries(words ?? {});
  return Object.fromEntries(entries.filter(([, text]) => text.includes('{subject}')));
}

/** Words that name nobody are of the whole round: said of some, they name them. */
function naming(words: Words | undefined): Words {
  const named = Object.entries(words ?? {}).map(([key, text]) => {
    const isPress = key === 'start' || key === 'end';
    return [key, isPress && !text.includes('{subject}') ? `${text}, {subject}` : text];
  });
  return Object.fromEntries(named);
}

/**
 * Instruction and words of a step for these subjects; `{subject}` is filled in the instruction. A document
 * with texts for some says there what is otherwise in its other texts; an older one has none to choose.
 */
export function stepTexts(step: Step, subjects: readonly string[], named: CaseNaming): StepTexts {
  const isFewer = isOfFewer(step, subjects, named);
  const isOne = step.together === true && subjects.length === 1;
  const isWritten = named.protocol.steps.some((each) => each.some !== undefined);
  if (isFewer && !isWritten) return { words: namingSubject(step.words) };
  const some = isFewer || isOne ? step.some : undefined;
  const instruction = some?.instruction ?? step.instruction;
  const subject = subjectsLabel(subjects, named.spec);
  return {
    ...(instruction === undefined
      ? {}
      : { instruction: instruction.replaceAll('{subject}', subject) }),
    words: { ...(isFewer ? naming(step.words) : step.words), ...some?.words },
  };
}
