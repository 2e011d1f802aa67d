/** What a check found, for the terminal: one sentence for each code. */
import type { Finding, FindingValues } from '../protocol/finding.ts';
import { terminalWords } from '../words/terminal-words.ts';

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

/** The finding in words, without its place. */
export function findingWords({ code, values }: Finding): string {
  return terminalWords.found[code]({
    value: (key) => word(values, key),
    list: (key) => list(values, key),
  });
}

/** One line: place, level, words. */
export function findingLine(finding: Finding): string {
  return `${finding.place}: ${finding.level}: ${findingWords(finding)}`;
}
