/** How pictures and what asks for them are sealed for the line, and opened again. */
import { jsonOr } from '../base/json.ts';
import type { LiveSeal } from './live-channel.ts';
import { type LiveOpener, makeLiveReader, sealLive } from './live-seal.ts';
import type { Sealer } from './sealed-types.ts';

/** Stands for what a picture may hold and JSON cannot: an end that nobody knows. */
const ENDLESS = '\u221e';
const ENDLESS_BELOW = `-${ENDLESS}`;

/** A picture as text. What is undefined is left out, as it is when it is read. */
export const pictureText = (value: unknown): string =>
  JSON.stringify(value, (_, each: unknown) => {
    if (each === Number.POSITIVE_INFINITY) return ENDLESS;
    return each === Number.NEGATIVE_INFINITY ? ENDLESS_BELOW : each;
  });

/** What the text says; null where it is none. */
export function pictureOf(text: unknown): unknown {
  // Looked at first: brackets inside each other without end are not walked.
  if (typeof text !== 'string' || jsonOr(text) === null) return null;
  return JSON.parse(text, (_, each: unknown) => {
    if (each === ENDLESS) return Number.POSITIVE_INFINITY;
    return each === ENDLESS_BELOW ? Number.NEGATIVE_INFINITY : each;
  });
}

/**
 * Seals with the keys that this tablet has at the moment, and opens by what it knows then.
 * @param o.nextCount numbers what is sent: it rises, over a restart too.
 */
export function liveSealing(o: {
  readonly sealer: () => Sealer;
  readonly opener: () => LiveOpener;
  readonly nextCount: () => number;
}): LiveSeal {
  const read = makeLiveReader(o.opener);
  return {
    seal({ subject, value }) {
      return sealLive(o.sealer(), { subject, counter: o.nextCount(), value: pictureText(value) });
    },
    async open(sent) {
      const opened = await read(sent);
      if (!opened.ok) return null;
      const { device, value } = opened.value;
      return { device, value: pictureOf(value) };
    },
  };
}
