/**
 * A pass of light: one press begins it, tones lead over its places, and it counts once somebody has
 * confirmed it. A lamp that is set to `setMs` switches itself off. A place other than the first may
 * have been lit a change-over earlier or later than its tone. Times in ms.
 */
import { elapsed, shift, spreadOver } from './axis.ts';
import type { PassPlace, TimedPlace } from './pressing-types.ts';
import type { CaseInstant, LedPlace, LightPass } from './types.ts';
import type { LightPassNow, PassPlaceNow } from './view-types.ts';

/** One position of the tip, whichever of its presses. */
export const positionId = ({ subject, surface, position }: PassPlace): string =>
  `${subject} ${surface} ${position}`;

export const placeId = (place: PassPlace): string =>
  place.nth === undefined ? positionId(place) : `${positionId(place)} ${place.nth}`;

export const plainPlace = ({ subject, surface, position, setMs, nth }: PassPlace): PassPlace => ({
  subject,
  surface,
  position,
  setMs,
  ...(nth === undefined ? {} : { nth }),
});

const endMs = ({ fromMs, setMs }: TimedPlace): number => fromMs + setMs;

/** When the last of its tones has come, from the press that began it. */
const wholeMs = (places: readonly TimedPlace[]): number => Math.max(0, ...places.map(endMs));

/** Whether the tones have led through all of it, by the shortest time that may have passed. */
export function isPassOver({ running }: LightPass, now: CaseInstant): boolean {
  return running !== null && elapsed(running.since, now).loMs >= wholeMs(running.places);
}

/** For how long a pass has been over, by the shortest time; negative while it goes on. */
export function overSinceMs({ running }: LightPass, now: CaseInstant): number {
  if (running === null) return 0;
  return elapsed(running.since, now).loMs - wholeMs(running.places);
}

function ledPlace(pass: LightPass, since: CaseInstant, place: TimedPlace): LedPlace {
  const at = shift(since, place.fromMs);
  const { changeMs } = pass;
  const isFirst = place.fromMs === 0;
  return {
    ...plainPlace(place),
    at: isFirst ? at : spreadOver(at, { fromMs: -changeMs, toMs: changeMs }),
    isWhole: true,
  };
}

/** Every place with its instant, as if the pass were over. */
export function allLed(pass: LightPass): readonly LedPlace[] {
  const { running } = pass;
  if (running === null) return pass.led;
  return [...pass.led, ...running.places.map((place) => ledPlace(pass, running.since, place))];
}

/** The pass as it stands once the light is stopped at `at`: what was led through, and what is left. */
export function stopped(pass: LightPass, at: CaseInstant): LightPass {
  const { running } = pass;
  if (running === null) return pass;
  const passedMs = elapsed(running.since, at).loMs;
  const isWhole = (place: TimedPlace) => endMs(place) <= passedMs;
  const cut = running.places.find((place) => place.fromMs <= passedMs && !isWhole(place));
  return {
    ...pass,
    running: null,
    cut: cut === undefined ? null : { place: plainPlace(cut), at },
    led: [
      ...pass.led,
      ...running.places.filter(isWhole).map((place) => ledPlace(pass, running.since, place)),
    ],
    left: running.places.filter((place) => !isWhole(place)).map(plainPlace),
  };
}

/** The pass without the places of one subject; null when none is left. */
export function withoutSubject(pass: LightPass, subject: string): LightPass | null {
  const isOther = (place: PassPlace) => place.subject !== subject;
  const places = pass.running?.places.filter(isOther) ?? [];
  const next: LightPass = {
    ...pass,
    led: pass.led.filter(isOther),
    left: pass.left.filter(isOther),
    cut: pass.cut !== null && isOther(pass.cut.place) ? pass.cut : null,
    running: pass.running && places.length > 0 ? { ...pass.running, places } : null,
  };
  return next.led.length + next.left.length + places.length === 0 ? null : next;
}

/** Where the tones lead now: the light on one place, or from the last one to the next. */
interface LeadNow {
  readonly place: TimedPlace;
  readonly isLit: boolean;
  readonly since: CaseInstant;
  readonly forMs: number;
}

/** Null where no pass is under way. */
export function leadNow(pass: LightPass | null, now: CaseInstant): LeadNow | null {
  const running = pass?.running ?? null;
  if (running === null) return null;
  const passedMs = elapsed(running.since, now).loMs;
  const place = running.places.find((each) => endMs(each) > passedMs);
  if (place === undefined) return null;
  const isLit = place.fromMs <= passedMs;
  const before = running.places.filter((each) => endMs(each) <= passedMs);
  const fromMs = isLit ? place.fromMs : wholeMs(before);
  const forMs = isLit ? place.setMs : place.fromMs - fromMs;
  return { place, isLit, since: shift(running.since, fromMs), forMs };
}

/** The pass at one instant, place by place. */
export function passNow(pass: LightPass | null, now: CaseInstant): LightPassNow | null {
  if (pass === null) return null;
  const { running, led, left, cut } = pass;
  const cutId = cut && placeId(cut.place);
  const passedMs = running === null ? 0 : elapsed(running.since, now).loMs;
  const before = led.map((place): PassPlaceNow => {
    const sinceMs = elapsed(place.at, now).hiMs;
    return {
      ...plainPlace(place),
      startsInMs: -sinceMs,
      endsInMs: place.setMs - sinceMs,
      state: 'led',
    };
  });
  const going = (running?.places ?? []).map((place): PassPlaceNow => {
    const startsInMs = place.fromMs - passedMs;
    const endsInMs = endMs(place) - passedMs;
    const state = endsInMs <= 0 ? 'led' : startsInMs <= 0 ? 'lit' : 'to-come';
    return { ...plainPlace(place), startsInMs, endsInMs, state };
  });
  const after = left.map(
    (place): PassPlaceNow => ({
      ...plainPlace(place),
      startsInMs: 0,
      endsInMs: place.setMs,
      state: placeId(place) === cutId ? 'cut' : 'to-come',
    }),
  );
  return {
    step: pass.step,
    isStopped: running === null,
    isOver: isPassOver(pass, now),
    places: [...before, ...going, ...after],
  };
}
