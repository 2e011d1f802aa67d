/** Why a case was not opened, and what to do about it. */
import type { Problem } from '../base/problem.ts';
import type { Refusal } from '../engine/commands.ts';
import { conditionWords } from './condition-words.ts';
import { opening } from './en/opening.ts';
import { spoken } from './language.ts';
import { refusalWords } from './refusal-words.ts';

export const openingTexts = spoken('opening', opening);

interface NotOpened {
  readonly what: string;
  readonly todo: string;
  /** The place where it can be helped, when there is one. */
  readonly where: 'protocol' | 'case' | 'chair' | null;
}

/** What to do when something could not be kept; never what the code says of it. */
export function notKeptWords({ code }: Pick<Problem, 'code'>): string {
  const known: Readonly<Record<string, string>> = openingTexts.notKept;
  return known[code] ?? openingTexts.tryAgain;
}

const isRefusal = (error: Refusal | Problem): error is Refusal => 'missing' in error;

export function openingWords(error: Refusal | Problem): NotOpened {
  if (isRefusal(error)) {
    if (error.code === 'not-asked') {
      const facts = Object.entries(conditionWords.facts).flatMap(([fact, words]) =>
        error.missing.includes(fact) ? [words] : [],
      );
      const what = openingTexts.notAsked({ ids: String(error.values['ids']), facts });
      return { what, todo: refusalWords(error).todo, where: 'case' };
    }
    const where = error.code === 'protocol-unconfirmed' ? 'protocol' : null;
    return { ...refusalWords(error), where };
  }
  switch (error.code) {
    case 'not-writer':
      return { what: openingTexts.notWriter, todo: openingTexts.notWriterTodo, where: null };
    case 'patient-runs':
      return { what: openingTexts.patientRuns, todo: openingTexts.patientRunsTodo, where: 'chair' };
    case 'patient-open':
      return { what: openingTexts.patientOpen, todo: openingTexts.patientOpenTodo, where: null };
    case 'drill-not-answered':
      return {
        what: openingTexts.drillNotDrawn,
        todo: openingTexts.drillNotDrawnTodo,
        where: null,
      };
    case 'unknown-protocol':
      return { what: openingTexts.noProtocol, todo: openingTexts.noProtocolTodo, where: 'case' };
    default:
      return { what: openingTexts.notOpened, todo: notKeptWords(error), where: null };
  }
}
