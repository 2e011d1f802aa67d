/** When a press is wanted, and how long is left of what. */
import type { Offer } from '../engine/view-types.ts';
import { formatSeconds, formatWords, formatWordsInterval } from './duration.ts';
import { offer as english } from './en/offer.ts';
import { spoken } from './language.ts';

const words = spoken('offer', english);

const SOON_MS = 90_000;

/** What is left until an offer is due, started seconds included. */
function spanTo(dueInMs: number): string {
  return dueInMs < SOON_MS ? formatSeconds(dueInMs, 'up') : formatWords(dueInMs, 'up');
}

/** By how much a limit is passed, between the least and the most that it may be. */
function overWords(slackMs: number, mostMs: number): string {
  if (mostMs >= 0) return words.perhapsOver;
  return words.over(formatWordsInterval({ loMs: -mostMs, hiMs: -slackMs, rounding: 'up' }));
}

/**
 * When an offer is wanted: "due in 8 s", "10 s left", "6 s over". With no limit of its own it is
 * the last instant to begin, so that a later limit can still be kept: "within 44 s".
 */
export function offerWhen(offer: Offer): string | undefined {
  // A stop is never due: what runs until then is the pass itself.
  if (offer.kind === 'pass-stop') return words.passLeft(spanTo(offer.dueInMs));
  if (offer.dueInMs > 0) return words.dueIn(spanTo(offer.dueInMs));
  if (offer.slackMs === null) return undefined;
  if (offer.slackMs < 0) return overWords(offer.slackMs, offer.slackMostMs ?? offer.slackMs);
  const isOwn = offer.boundBy !== null;
  if (offer.slackMs === 0) return isOwn ? words.atLimit : undefined;
  if (offer.slackMs >= SOON_MS) return undefined;
  return (isOwn ? words.left : words.within)(formatSeconds(offer.slackMs, 'up'));
}

/** The same for a line that looks ahead: "in 8 s". */
export function offerIn(offer: Offer): string | undefined {
  return offer.dueInMs <= 0 ? undefined : words.in(spanTo(offer.dueInMs));
}
