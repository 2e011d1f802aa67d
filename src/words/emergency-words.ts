/** Words of the emergency cards, and how a record tells of them. */
import { unreachable } from '../base/assert.ts';
import type { EmergencyCardId, EmergencyNote } from '../engine/aside-types.ts';
import { CALL_LINE } from '../engine/emergency-cards.ts';
import { emergency } from './en/emergency.ts';
import { spoken } from './language.ts';

export const emergencyWords = spoken('emergency', emergency);

/** What a line of a card says; its id where this version does not have the line. */
export function cardLineWords(card: EmergencyCardId, line: string): string {
  if (line === CALL_LINE) return emergencyWords.told.called;
  const lines: Readonly<Record<string, string>> = emergencyWords.cards[card].lines;
  return lines[line] ?? line;
}

/** "Card opened: Choking". */
export function emergencyNoteWords({
  card,
  act,
  line,
}: {
  readonly card: EmergencyCardId;
  readonly act: EmergencyNote['act'];
  readonly line: string | null;
}): string {
  const { title } = emergencyWords.cards[card];
  switch (act) {
    case 'opened':
      return emergencyWords.told.opened(title);
    case 'closed':
      return emergencyWords.told.closed(title);
    case 'step-done':
      return emergencyWords.told.done({ card: title, line: cardLineWords(card, line ?? '') });
    default:
      return unreachable(act);
  }
}
