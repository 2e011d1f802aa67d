/** What the checks of a protocol say to the clinic lead, a sentence for each code. */
import { unreachable } from '../base/assert.ts';
import type { Finding, FindingValues } from '../protocol/finding.ts';
import type { PracticeFinding } from '../protocol/ranges-practice.ts';

type AnyFinding = Finding | PracticeFinding;

function word(values: FindingValues, key: string): string {
  const value = values[key];
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

function list(values: FindingValues, key: string): readonly string[] {
  const value = values[key];
  return Array.isArray(value) ? value.map(String) : [];
}

/** "15 to 30 s", "at least 30 s", "at most 4 coats". A bound of -1 is none. */
export function rangeWords(o: {
  readonly min: number | null;
  readonly max: number | null;
  readonly unit: string;
}): string {
  const unit = `\u00a0${o.unit}`;
  if (o.min === null) return `at most ${o.max}${unit}`;
  return o.max === null ? `at least ${o.min}${unit}` : `${o.min} to ${o.max}${unit}`;
}

function stepsWithSeconds(values: FindingValues): string {
  const seconds = list(values, 'stepSeconds');
  return list(values, 'steps')
    .map((title, i) => `${title} (${seconds[i] ?? '?'}\u00a0s)`)
    .join(', ');
}

function windowWords(values: FindingValues, when: string): string {
  const head = `“${word(values, 'title')}” allows ${word(values, 'limitSeconds')}\u00a0s`;
  const missing = `${word(values, 'missingSeconds')}\u00a0s are missing`;
  const others = list(values, 'otherWindows').join(', ');
  const steps = stepsWithSeconds(values);
  if (steps === '') return `${head}, which collides with ${others}: ${missing}.`;
  const also = others === '' ? '' : ` It also collides with ${others}.`;
  return `${head}, but ${when} ${steps} lie between: ${missing}.${also}`;
}

function outsideWords(values: FindingValues): string {
  const bound = (key: string): number | null => {
    const value = values[key];
    return typeof value === 'number' && value >= 0 ? value : null;
  };
  const unit = word(values, 'unit');
  const range = rangeWords({ min: bound('min'), max: bound('max'), unit });
  const known = word(values, 'standing') === 'common practice' ? 'usual' : 'published';
  return `${word(values, 'title')}: ${word(values, 'value')}\u00a0${unit} lies outside the ${known} ${range} (${word(values, 'source')}).`;
}

function nobodyWords(values: FindingValues): string {
  const title = word(values, 'title');
  if (word(values, 'role') === '') return `${title} can never be opened: nobody will do it.`;
  return `${title} is for the ${word(values, 'role')}, and “${word(values, 'on')}” has none.`;
}

function practiceWords({ code, values }: PracticeFinding): string {
  const title = word(values, 'title');
  switch (code) {
    case 'outside-range':
      return outsideWords(values);
    case 'acid-on-zirconia':
      return `${title}: hydrofluoric acid does not etch zirconia (${word(values, 'on')}).`;
    case 'primed-unshielded':
      return `${title}: no window shields the primed units from light until they are seated.`;
    case 'working-without-bead':
      return `“${title}” runs without a sample bead to warn that it is ending.`;
    case 'surface-missing':
      return `${title} leaves out: ${list(values, 'surfaces').join(', ')}.`;
    case 'nobody-does-it':
      return nobodyWords(values);
    default:
      return unreachable(code);
  }
}

function linkWords(values: FindingValues, rest: string): string {
  return `“${word(values, 'link')}” from ${word(values, 'from')} to ${word(values, 'to')} ${rest}.`;
}

function referenceWords({ code, values }: Finding): string | null {
  const id = `“${word(values, 'id')}”`;
  switch (code) {
    case 'duplicate-id':
      return `The id ${id} is used twice.`;
    case 'unknown-stage':
      return `There is no stage ${id}.`;
    case 'unknown-step':
      return `There is no step ${id}.`;
    case 'unknown-slot':
      return `There is no material ${id}.`;
    case 'unknown-caution':
      return `There is no caution ${id}.`;
    case 'unknown-source':
      return `There is no source ${id}.`;
    case 'unknown-way-back':
      return `There is no way back ${id}.`;
    case 'unknown-option':
      return `That step has no option ${id}.`;
    case 'link-needs-same-scope':
      return linkWords(values, 'needs both steps done to the same kind of subject');
    case 'link-needs-other-scope':
      return linkWords(values, 'joins different kinds of subjects; “same” is meant');
    case 'link-has-no-order':
      return linkWords(values, 'has nothing before it, since there is one case only');
    case 'clock-not-after':
      return `The clock begins with ${id}, but the step does not wait for it.`;
    case 'unused':
      return `${id} is not used by any step.`;
    default:
      return null;
  }
}

function meaningWords({ code, values }: Finding): string | null {
  const title = word(values, 'title');
  switch (code) {
    case 'waits-in-a-circle':
      return `Steps wait for each other in a circle: ${list(values, 'chain').join(' waits for ')}.`;
    case 'bounds-crossed':
      return `The lower bound (${word(values, 'lowValue')}) is above the higher one (${word(values, 'highValue')}).`;
    case 'window-without-bound':
      return `“${title}” has neither a minimum nor a limit.`;
    case 'window-of-one-moment':
      return `“${title}” begins and ends with the same moment.`;
    case 'window-cannot-be-kept':
      return windowWords(values, 'at the usual pace');
    case 'window-tight-on-a-slow-day':
      return windowWords(values, 'on a slow day');
    case 'expose-without-time':
      return 'Light needs a time for each surface, a radiant exposure, or both.';
    case 'expose-without-surface':
      return 'Light needs at least one surface.';
    case 'surface-twice':
      return `The ${word(values, 'surface')} surface is listed twice.`;
    case 'choice-without-options':
      return 'A choice needs at least one option.';
    case 'hands-without-dwell':
      return 'The rhythm of the hands counts only for a time that runs.';
    case 'clock-without-dwell':
      return 'Only a time that runs can begin with the end of another step.';
    case 'no-steps':
      return 'A protocol needs at least one step.';
    default:
      return null;
  }
}

const PRACTICE: ReadonlySet<string> = new Set<PracticeFinding['code']>([
  'outside-range',
  'acid-on-zirconia',
  'primed-unshielded',
  'working-without-bead',
  'surface-missing',
  'nobody-does-it',
]);

function isPractice(finding: AnyFinding): finding is PracticeFinding {
  return PRACTICE.has(finding.code);
}

/** A finding as one sentence. A code of a newer check is shown with its place. */
export function findingWords(finding: AnyFinding): string {
  if (isPractice(finding)) return practiceWords(finding);
  return referenceWords(finding) ?? meaningWords(finding) ?? `${finding.place}: ${finding.code}`;
}
