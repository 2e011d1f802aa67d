/** Reads the code of the emergency cards, soon after the start, so that no first screen waits for it. */
import type { Emergencies, EmergencyParts } from './emergencies.ts';

/** Answers with the one set of cards of this window, read back from the device. */
export function emergencyOpener(parts: EmergencyParts): () => Promise<Emergencies> {
  let opened: Promise<Emergencies> | null = null;
  const open = async (): Promise<Emergencies> => {
    const { Emergencies } = await import('./emergencies.ts');
    const cards = new Emergencies(parts);
    await cards.read();
    return cards;
  };
  return () => {
    opened ??= open();
    return opened;
  };
}
