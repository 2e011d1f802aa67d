/** Words of scanning a label and reading it back. */
import type { Problem } from '../base/problem.ts';
import { faultText, type LabelFault } from '../calc/udi/label-fault.ts';
import { scan } from './en/scan.ts';
import { spoken } from './language.ts';

export const scanWords = spoken('scan', scan);

/** Why the camera or a photograph did not help. */
export function scanFailureWords(problem: Pick<Problem, 'code'>): string {
  const known: Readonly<Record<string, string>> = scanWords.failures;
  return known[problem.code] ?? scanWords.failed;
}

/** What is wrong with a code, as a sentence. */
export const labelFaultWords = (fault: LabelFault): string => faultText(scanWords.faults, fault);
