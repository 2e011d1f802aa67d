/** What stands on the chair before the signature, in words. Pure. */
import { unreachable } from '../../base/assert.ts';
import { signItems } from '../../engine/sign-list.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { breachWords } from '../../words/breach-words.ts';
import { signWords } from '../../words/chair-sheet-words.ts';
import { gapWords } from '../../words/clock-words.ts';
import { stepOf } from '../../words/offer-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { subjectsLabel } from '../../words/subject-words.ts';
import { namingOf } from '../shared/arch-model.ts';

type Item = ReturnType<typeof signItems>[number];

interface SignLine {
  readonly id: string;
  readonly words: string;
  /** Words that were added to it; empty where none were. */
  readonly said: string;
}

function wordsOf(item: Item, naming: CaseNaming): string {
  const { protocol, spec } = naming;
  switch (item.kind) {
    case 'breach':
      return breachWords(item.breach, naming);
    case 'gap':
      return gapWords(item.gap);
    case 'voided': {
      const { wayBack, mishap, subjects, reason } = item;
      const title = protocol.waysBack.find(({ id }) => id === wayBack)?.title;
      return signWords.voided({
        subject: subjectsLabel(subjects, spec),
        title: title ?? protocolWords.mishaps[mishap],
        reason,
      });
    }
    case 'skipped': {
      const what = item.steps.map(({ step, subjects }) =>
        signWords.step({
          title: stepOf(protocol, step)?.title ?? step,
          subject: subjectsLabel(subjects, spec),
        }),
      );
      return signWords.skipped({ what, reason: item.reason });
    }
    default:
      return unreachable(item);
  }
}

/** A line for each thing that was missed, voided, not watched or skipped. */
export function signLines(running: RunningCase): readonly SignLine[] {
  const naming = namingOf(running);
  return signItems(running.log.state).map((item) => ({
    id: item.id,
    words: wordsOf(item, naming),
    said: item.said.join('; '),
  }));
}

/** Whether nothing is left but the signature: then it stands there what is signed. */
export function isSigning({ log, view }: RunningCase): boolean {
  const { closed, opened } = log.state;
  if (closed !== null) return false;
  const [top, ...others] = view.offers;
  if (top === undefined) return view.finished;
  const last = opened.protocol.steps.at(-1);
  return others.length === 0 && last?.per === 'case' && top.step === last.id;
}
