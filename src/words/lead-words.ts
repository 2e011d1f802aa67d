/** Words of the clinic lead's desk: the lock, what is on it, its log. */
import { unreachable } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import type { LeadDeed, LeadValues } from './codes.ts';
import { placeWords } from './correction-words.ts';
import { formatWords } from './duration.ts';
import { lead } from './en/lead.ts';
import { spoken } from './language.ts';

export const leadWords = spoken('lead', lead);

/** What a line of the log tells. */
interface Deed {
  readonly deed: LeadDeed;
  readonly values: LeadValues;
}

/** One entry of the log as a sentence. */
export function deedWords({ deed, values }: Deed): string {
  const words = leadWords.deeds;
  const text = (key: string): string => String(values[key] ?? '');
  const short = (key: string): string => text(key).slice(0, 8);
  const protocol = text('protocol');
  const revised = { protocol, revision: text('revision') };
  switch (deed) {
    case 'passphrase-set':
    case 'opened':
      return words[deed];
    case 'passphrase-reset':
      return words[deed]({ person: text('person'), reason: text('reason') });
    case 'passphrase-refused':
      return words[deed](text('failed'));
    case 'closed':
      return closedWords(text('why'));
    case 'draft-begun':
      return words[deed]({ protocol, from: short('from') });
    case 'draft-dropped':
      return words[deed](protocol);
    case 'confirmed':
      return words[deed]({ ...revised, hash: short('hash'), second: text('second') });
    case 'exported':
      return words[deed]({ ...revised, hash: short('hash') });
    case 'second-person':
      return text('asked') === '1' ? words[deed].asked : words[deed].notAsked;
    case 'entry-removed':
      return words[deed]({ ...revised, entry: text('entry'), reason: text('reason') });
    case 'correction-kept': {
      const what = placeWords({ place: text('place'), title: text('title') });
      return words[deed]({ protocol, what, template: short('template'), reason: text('reason') });
    }
    case 'retired':
      return words[deed]({ ...revised, reason: text('reason') });
    case 'back-in-force':
      return words[deed](revised);
    case 'imported':
      return words[deed]({ protocol, hash: short('hash') });
    case 'import-refused':
      return words[deed]({ place: text('place'), expected: text('expected'), came: text('came') });
    case 'stored-refused': {
      const hashes = { was: short('approvedHash'), is: short('storedHash') };
      return words[deed]({ document: text('document'), ...hashes });
    }
    case 'break-noted':
      return words[deed](text('broken'));
    case 'sheet-kept':
      return words[deed]({
        document: text('document'),
        revision: text('revision'),
        hash: short('hash'),
      });
    case 'sheet-put-away':
      return words[deed](text('document'));
    case 'lot-recalled':
    case 'recall-lifted':
      return words[deed]({ lot: text('lot'), reason: text('reason') });
    case 'lot-recalled-at-shelf':
      return words[deed]({ lot: text('lot'), reason: text('reason'), person: text('person') });
    case 'drill-note':
      return words[deed]({ protocol, seed: text('seed'), words: text('words') });
    case 'drills-signed':
      return words[deed](text('words'));
    default:
      return unreachable(deed);
  }
}

function closedWords(why: string): string {
  const { closed } = leadWords.deeds;
  const known: Readonly<Record<string, string>> = closed;
  return known[why] ?? closed['by-hand'];
}

/** What the desk refused, and what to do. */
export function leadProblemWords(problem: Problem): string {
  const { problems } = leadWords;
  switch (problem.code) {
    case 'wrong-passphrase':
    case 'too-short':
    case 'already-set':
    case 'desk-closed':
    case 'not-writer':
    case 'unconfirmed-figures':
    case 'faults':
    case 'quote-differs':
    case 'same-person':
    case 'changed':
      return problems[problem.code];
    case 'no-second':
      return problem.place === 'revision' ? problems.oneAlone : problems['no-second'];
    case 'wait':
      return problems.wait(formatWords(Number(problem.came), 'up'));
    case 'no-crypto':
      return leadWords.noLock;
    case 'empty':
      return problem.place === 'reason' ? problems.noReason : problems.noPerson;
    default:
      return isOtherFile(problem)
        ? problems.notProtocolFile(problems.other(problem))
        : problems.other(problem);
  }
}

/** Whether a file says already at its head, or before it can be read, that it is another kind of file. */
function isOtherFile({ place }: Problem): boolean {
  return place === 'file' || place === 'file.format' || place.startsWith('file, line ');
}
