/** Rows of a list that are dragged to their place by a handle, by pointer, touch or arrow keys. */
import {
  type KeyboardEvent,
  type PointerEvent,
  type RefObject,
  useEffect,
  useRef,
  useState,
} from 'react';

interface Move {
  /** Place of the row, counted from 0. */
  readonly from: number;
  /** Place of the row that it is to stand in front of; as many as there are rows for the end. */
  readonly to: number;
}

interface HandleProps {
  readonly onPointerDown: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerMove: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerUp: () => void;
  readonly onPointerCancel: () => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

export interface Drag {
  readonly list: RefObject<HTMLOListElement | null>;
  readonly from: number | null;
  readonly to: number | null;
  readonly handle: (index: number) => HandleProps;
}

/** Nearer than this to an edge of the screen, in px, the page scrolls by as much per frame. */
const EDGE_PX = 80;
const SCROLL_PX = 14;

/** The row in front of which the pointer is. */
function placeAt(list: HTMLElement, y: number): number {
  const rows = [...list.children].map((row) => row.getBoundingClientRect());
  const at = rows.findIndex(({ top, height }) => y < top + height / 2);
  return at < 0 ? rows.length : at;
}

interface Held extends Move {
  readonly y: number;
}

/** Scrolls while the pointer is held near an edge, and tells the place that comes under it. */
function useEdges(held: Held | null, onScroll: () => void): void {
  const said = useRef(onScroll);
  said.current = onScroll;
  const up = held !== null && held.y < EDGE_PX;
  const down = held !== null && held.y > window.innerHeight - EDGE_PX;
  useEffect(() => {
    if (!up && !down) return;
    let frame = 0;
    const scroll = (): void => {
      window.scrollBy(0, up ? -SCROLL_PX : SCROLL_PX);
      said.current();
      frame = requestAnimationFrame(scroll);
    };
    frame = requestAnimationFrame(scroll);
    return () => cancelAnimationFrame(frame);
  }, [up, down]);
}

export function useDrag(count: number, onMove: (move: Move) => void): Drag {
  const list = useRef<HTMLOListElement>(null);
  const [held, setHeld] = useState<Held | null>(null);
  const placed = (from: number, y: number): void => {
    if (list.current !== null) setHeld({ from, to: placeAt(list.current, y), y });
  };
  useEdges(held, () => held !== null && placed(held.from, held.y));
  const drop = (): void => {
    // In front of itself, or of the row behind it, it stays where it is.
    if (held !== null && held.to !== held.from && held.to !== held.from + 1) onMove(held);
    setHeld(null);
  };
  const byKey = (from: number, key: string): boolean => {
    const to = key === 'ArrowUp' ? from - 1 : key === 'ArrowDown' ? from + 2 : null;
    if (to === null || to < 0 || to > count) return false;
    onMove({ from, to });
    return true;
  };
  return {
    list,
    from: held?.from ?? null,
    to: held?.to ?? null,
    handle: (index) => ({
      onPointerDown: (event) => {
        event.preventDefault();
        event.currentTarget.setPointerCapture(event.pointerId);
        placed(index, event.clientY);
      },
      onPointerMove: (event) => held !== null && placed(held.from, event.clientY),
      onPointerUp: drop,
      onPointerCancel: () => setHeld(null),
      onKeyDown: (event) => {
        if (byKey(index, event.key)) event.preventDefault();
      },
    }),
  };
}
