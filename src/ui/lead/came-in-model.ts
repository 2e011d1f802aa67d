/** Where a draft came from, in words: what it is, who sent it, when, and whether the same is here already. */
import type { Protocol } from '../../protocol/types.ts';
import { protocolHash } from '../../runtime/lead/lead-documents.ts';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import type { Sender } from '../../runtime/lead/lead-protocol-file.ts';
import { currentRevision, type Revision } from '../../runtime/lead/lead-revisions.ts';
import type { Times } from '../../words/date-words.ts';
import { otherClinicsWords } from '../../words/other-clinics-words.ts';
import { shortHash } from '../shared/protocol-model.ts';

export interface Around {
  readonly revisions: readonly Revision[];
  readonly templates: readonly Protocol[];
  readonly drafts: readonly ProtocolDraft[];
  /** The id of this tablet. */
  readonly tablet: string;
  readonly times: Times;
}

function senderWords(from: Sender | null, times: Times): string {
  if (from === null) return otherClinicsWords.noSender;
  const [clinic, by] = [from.clinic.trim(), from.by.trim()];
  const on = times.day(from.onWallMs);
  if (clinic !== '' && by !== '') return otherClinicsWords.sentBoth({ clinic, by, on });
  const named = clinic === '' ? by : clinic;
  if (named !== '') return otherClinicsWords.sent({ by: named, on });
  return otherClinicsWords.sentTablet({ tablet: shortHash(from.tablet), on });
}

/** What of this tablet is the same, to the last letter, as the file; null when nothing is. */
export function sameHere(draft: ProtocolDraft, around: Around): string | null {
  const { startHash, start } = draft;
  const revision = around.revisions.find(({ hash }) => hash === startHash);
  if (revision !== undefined) {
    const isInUse = currentRevision(around.revisions, start.id)?.hash === startHash;
    const words = isInUse ? otherClinicsWords.sameInUse : otherClinicsWords.sameRevision;
    return words(revision.protocol.revision);
  }
  if (around.templates.some((t) => t.id === start.id && protocolHash(t) === startHash)) {
    return otherClinicsWords.sameTemplate;
  }
  const earlier = around.drafts.find(
    (d) =>
      d.id !== draft.id &&
      d.origin === 'import' &&
      d.startHash === startHash &&
      d.begunWallMs <= draft.begunWallMs,
  );
  return earlier === undefined
    ? null
    : otherClinicsWords.sameDraft(around.times.moment(earlier.begunWallMs));
}

/** One line each; none of a draft that was begun at this desk. */
export function cameInLines(draft: ProtocolDraft, around: Around): readonly string[] {
  const { origin, tablet, start, startHash } = draft;
  if (origin === 'here') {
    const isElsewhere = tablet !== null && tablet !== around.tablet;
    if (!isElsewhere) return [];
    return [
      otherClinicsWords.beganFrom({ revision: start.revision, hash: shortHash(startHash) }),
      otherClinicsWords.otherTablet(shortHash(tablet)),
    ];
  }
  const same = sameHere(draft, around);
  return [
    otherClinicsWords.holds({ revision: start.revision, hash: shortHash(startHash) }),
    senderWords(draft.from, around.times),
    otherClinicsWords.takenIn({
      by: draft.begunBy,
      on: around.times.moment(draft.begunWallMs),
    }),
    ...(same === null ? [] : [same]),
  ];
}
