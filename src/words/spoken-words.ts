/** What a voice says when a cue has sounded: the words of the bar where there are any. */
import { isInDoubt } from '../engine/cues.ts';
import type { CaseLog } from '../engine/log.ts';
import type { Cue, View } from '../engine/view-types.ts';
import { cueWords } from './clock-words.ts';
import { offerWords } from './offer-words.ts';
import { subjectsLabel } from './subject-words.ts';

/** "Rinse 12"; null when the cue no longer stands. */
export function spokenWords(
  running: { readonly log: CaseLog; readonly view: View },
  cueId: string,
): string | null {
  const cue: Cue | undefined = running.view.cues.find((c) => c.id === cueId);
  if (!cue) return null;
  const { opened, notation } = running.log.state;
  const { protocol } = opened;
  // Heard as it is read: in the numbering that the case has now.
  const spec = { ...opened.spec, notation };
  const offer = running.view.offers.find(
    (o) => o.step === cue.of && o.subjects.some((s) => cue.subjects.includes(s)),
  );
  if (offer && (cue.kind === 'now' || cue.kind === 'over')) {
    return offerWords(offer, { spec, protocol });
  }
  const title = running.view.clocks.find((c) => c.id === cue.clock)?.title ?? cue.of;
  return cueWords(cue.kind, {
    title,
    subject: subjectsLabel(cue.subjects, spec),
    isInDoubt: isInDoubt(cue, running.view.clocks),
  });
}
