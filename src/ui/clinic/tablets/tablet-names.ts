/** What a tablet is called by people; one that nobody vouches for by the beginning of its id. Pure. */
import type { TabletRow } from '../../../runtime/sharing/sharing-state.ts';
import { sharingWords } from '../../../words/sharing-words.ts';

const ID_SHOWN = 8;

export const nameOf = (tablets: readonly TabletRow[], device: string): string =>
  tablets.find((row) => row.device === device || row.tablet === device)?.name ??
  sharingWords.otherTablet(device.slice(0, ID_SHOWN));
