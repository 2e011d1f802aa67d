/** Plain English for the terminal: what a check found, one sentence for each code. */
import { unreachable } from '../base/assert.ts';
import type { Finding, FindingValues } from '../protocol/finding.ts';

function word(values: FindingValues, key: string): string {
  const value = values[key];
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

function list(values: FindingValues, key: string): readonly string[] {
  const value = values[key];
  return typeof value === 'string' || typeof value === 'number' || value === undefined
    ? []
    : value.map(String);
}

function linkWords(values: FindingValues, rest: string): string {
  return `the link "${word(values, 'link')}" from ${word(values, 'from')} to ${word(values, 'to')} ${rest}`;
}

/** "Try-in" (90 s), "Dam" (15 s) */
function stepsWithSeconds(values: FindingValues): string {
  const seconds = list(values, 'stepSeconds');
  return list(values, 'steps')
    .map((title, i) => `"${title}" (${seconds[i] ?? '?'} s)`)
    .join(', ');
}

function windowWords(values: FindingValues, when: string): string {
  const head = `"${word(values, 'title')}" allows ${word(values, 'limitSeconds')} s`;
  const missing = `${word(values, 'missingSeconds')} s missing`;
  const others = list(values, 'otherWindows')
    .map((title) => `"${title}"`)
    .join(', ');
  const steps = stepsWithSeconds(values);
  if (steps === '') return `${head}, but that collides with ${others}: ${missing}`;
  const also = others === '' ? '' : `; it also collides with ${others}`;
  return `${head}, but ${when} ${steps} lie between: ${missing}${also}`;
}

/** The finding in words, without its place. */
export function findingWords({ code, values }: Finding): string {
  const id = `"${word(values, 'id')}"`;
  switch (code) {
    case 'duplicate-id':
      return `the id ${id} is used twice`;
    case 'unknown-stage':
      return `there is no stage ${id}`;
    case 'unknown-step':
      return `there is no step ${id}`;
    case 'unknown-slot':
      return `there is no material slot ${id}`;
    case 'unknown-caution':
      return `there is no caution ${id}`;
    case 'unknown-source':
      return `there is no source ${id}`;
    case 'unknown-way-back':
      return `there is no way back ${id}`;
    case 'unknown-option':
      return `that step has no option ${id}`;
    case 'link-needs-same-scope':
      return linkWords(values, 'needs both steps to be done to the same kind of subject');
    case 'link-needs-other-scope':
      return linkWords(values, 'joins different kinds of subjects; "same" is meant here');
    case 'link-has-no-order':
      return linkWords(values, 'has no previous subject, since there is one case only');
    case 'waits-in-a-circle':
      return `steps wait for each other in a circle: ${list(values, 'chain')
        .map((title) => `"${title}"`)
        .join(' waits for ')}`;
    case 'bounds-crossed':
      return `${word(values, 'low')} (${word(values, 'lowValue')}) is above ${word(values, 'high')} (${word(values, 'highValue')})`;
    case 'window-without-bound':
      return `the window "${word(values, 'title')}" has neither a minimum nor a maximum`;
    case 'window-of-one-moment':
      return `the window "${word(values, 'title')}" begins and ends with the same moment`;
    case 'window-cannot-be-kept':
      return windowWords(values, 'at the usual pace');
    case 'window-tight-on-a-slow-day':
      return windowWords(values, 'on a slow day');
    case 'expose-without-time':
      return 'an exposure needs a time for each surface, a radiant exposure, or both';
    case 'expose-without-surface':
      return 'an exposure needs at least one surface';
    case 'surface-twice':
      return `the surface "${word(values, 'surface')}" is listed twice`;
    case 'choice-without-options':
      return 'a choice needs at least one option';
    case 'hands-without-dwell':
      return 'the rhythm of the hands counts only for a step with a dwell';
    case 'clock-without-dwell':
      return 'only a dwell can begin with the end of another step';
    case 'clock-not-after':
      return `the clock begins with ${id}, but the step does not wait for it`;
    case 'no-steps':
      return 'a protocol needs at least one step';
    case 'acid-on-zirconia':
      return `"${word(values, 'title')}" puts hydrofluoric acid on zirconia: there is no glass to dissolve, so it gives no hold and leaves the acid risk; air abrasion and a phosphate primer are used instead`;
    case 'phosphate-on-zirconia':
      return `"${word(values, 'title')}" puts phosphoric acid on zirconia: phosphate stays on the surface and takes the place of the primer; clean with water, an alkaline cleaner or by air abrasion`;
    case 'material-not-in-protocol':
      return `the unit ${id} is ${word(values, 'material')}, but this protocol is written for ${list(values, 'materials').join(', ')}`;
    case 'restoration-not-in-protocol':
      return `the unit ${id} is a ${word(values, 'restoration')}, but this protocol is written for ${list(values, 'restorations').join(', ')}`;
    case 'unused':
      return `${id} is not used by any step`;
    default:
      return unreachable(code);
  }
}

/** One line: place, level, words. */
export function findingLine(finding: Finding): string {
  return `${finding.place}: ${finding.level}: ${findingWords(finding)}`;
}
