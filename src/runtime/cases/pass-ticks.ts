/**
 * Which places of a pass of light somebody has unticked before the press that confirms it. It lives with
 * the running case, so that every door presses the same places.
 */
import { placeId } from '../../engine/light-pass.ts';
import type { CaseEvent } from '../../engine/types.ts';
import type { Offer, View } from '../../engine/view-types.ts';

export class PassTicks {
  #unticked: ReadonlySet<string> = new Set();
  /** What the last confirmation left out: it stands there again when that press is taken back. */
  #pressed: { readonly press: number; readonly unticked: ReadonlySet<string> } | null = null;

  get areAll(): boolean {
    return this.#unticked.size === 0;
  }

  /** Takes the tick away, or puts it back. */
  turn(id: string): void {
    const next = new Set(this.#unticked);
    if (!next.delete(id)) next.add(id);
    this.#unticked = next;
  }

  /**
   * The picture with what its press would confirm. The press that goes on with the next pass confirms all:
   * with a place unticked it is not offered, as the next pass is another one then.
   */
  shown(view: View): View {
    if (this.areAll) return view;
    const { inHand } = view.attention;
    const offers = view.offers.filter((o) => !o.confirms).map((offer) => this.#ticked(offer));
    const mine = inHand?.confirms ? offers.find((o) => o.kind === 'pass-confirm') : inHand;
    return {
      ...view,
      offers,
      attention: { ...view.attention, inHand: mine ? this.#ticked(mine) : null },
    };
  }

  #ticked(offer: Offer): Offer {
    if (offer.kind !== 'pass-confirm') return offer;
    const places = (offer.places ?? []).filter((place) => !this.#unticked.has(placeId(place)));
    const subjects = [...new Set(places.map(({ subject }) => subject))];
    return { ...offer, places, subjects: subjects.length > 0 ? subjects : offer.subjects };
  }

  /** A tick is of one pass: the next one begins with all. */
  clear(): void {
    this.#unticked = new Set();
  }

  /** Follows what was pressed, before the ticks of a pass that is over are cleared. */
  note(press: number, events: readonly CaseEvent[]): void {
    for (const event of events) {
      if (event.type === 'light-pass-confirmed') {
        this.#pressed = { press, unticked: this.#unticked };
      }
      if (event.type === 'press-retracted' && event.press === this.#pressed?.press) {
        this.#unticked = this.#pressed.unticked;
        this.#pressed = null;
      }
    }
  }
}
