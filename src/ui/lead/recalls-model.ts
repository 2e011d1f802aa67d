/** The lots that are marked as recalled, each once however many boxes it has. Pure. */
import { sameLot } from '../../runtime/stock/same-lot.ts';
import type { LotRecall } from '../../runtime/stock/stock-facts.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';

export interface RecalledLot {
  readonly lot: string;
  readonly labels: readonly string[];
  readonly boxes: number;
  readonly onWallMs: number;
  readonly reason: string;
}

type Recall = Pick<LotRecall, 'lot' | 'onWallMs' | 'reason'>;

/**
 * The mark that was put last stands first.
 * @param o.recalls what stands; a lot may be recalled that has no box on the list.
 */
export function recalledLots(o: {
  readonly materials: readonly Material[];
  readonly recalls: readonly Recall[];
}): readonly RecalledLot[] {
  const marked = o.materials.filter((m) => m.recalled !== undefined);
  const { recalls } = o;
  const firsts = recalls.filter((r, at) => recalls.findIndex((f) => sameLot(f.lot, r.lot)) === at);
  const lots = firsts.map(({ lot, onWallMs }): RecalledLot => {
    const boxes = marked.filter((m) => sameLot(m.recalled?.lot ?? m.lot, lot));
    const said = recalls.filter((recall) => sameLot(recall.lot, lot));
    const reasons = new Set(said.map(({ reason }) => reason).filter((reason) => reason !== ''));
    return {
      lot,
      labels: [...new Set(boxes.map(({ label }) => label))],
      boxes: boxes.length,
      onWallMs,
      reason: [...reasons].join('; '),
    };
  });
  return lots.toSorted((a, b) => b.onWallMs - a.onWallMs);
}

/** What the list has of a lot, by label and class. */
export function lotsOfList(materials: readonly Material[], lot: string): readonly string[] {
  if (lot.trim() === '') return [];
  const boxes = materials.filter((m) => sameLot(m.lot, lot));
  return [...new Set(boxes.map(({ label, materialClass }) => `${label} (${materialClass})`))];
}
