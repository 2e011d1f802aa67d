import { type RefObject, useLayoutEffect, useState } from 'react';
import type { ChairSizes } from './size-model.ts';

/** Reads a number that a style sheet computes with. */
function numberOf(element: Element, property: string): number {
  return Number.parseFloat(getComputedStyle(element).getPropertyValue(property));
}

function heightMm(within: ParentNode, selector: string): number | null {
  const element = within.querySelector(selector);
  if (element === null) return null;
  const px = numberOf(element, 'font-size') * numberOf(element, '--digit-ratio');
  const mm = px / numberOf(element, '--px-per-mm');
  return Number.isFinite(mm) && mm > 0 ? mm : null;
}

/**
 * The sizes that the layout gave to the seconds and the step. Read again when the window changes and
 * when `moment` does.
 */
export function useChairSizes(
  within: RefObject<HTMLElement | null> | null,
  moment: string,
): ChairSizes {
  const [sizes, setSizes] = useState<ChairSizes>({ secondsMm: null, stepMm: null });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the moment says that the layout changed.
  useLayoutEffect(() => {
    const read = (): void => {
      const root = within === null ? document : within.current;
      if (root === null) return;
      const next = {
        secondsMm: heightMm(root, '.lw-clock-figure') ?? heightMm(root, '.lw-watch-figure'),
        stepMm: heightMm(root, '.lw-step-line'),
      };
      setSizes((last) =>
        last.secondsMm === next.secondsMm && last.stepMm === next.stepMm ? last : next,
      );
    };
    read();
    window.addEventListener('resize', read);
    return () => window.removeEventListener('resize', read);
  }, [within, moment]);
  return sizes;
}
