/** One thing that was done to a box, in words. Pure. */
import { unreachable } from '../../../base/assert.ts';
import type { MaterialSaid, StockEvent } from '../../../runtime/stock/stock-facts.ts';
import type { Times } from '../../../words/date-words.ts';
import { stockHistoryWords } from '../../../words/stock-history-words.ts';
import { fieldWords } from '../../shared/differing-model.ts';

function deedWords(said: MaterialSaid, times: Times): string {
  const { deeds } = stockHistoryWords;
  switch (said.type) {
    case 'was':
    case 'used-up':
    case 'back-on-shelf':
    case 'struck':
      return deeds[said.type];
    case 'received':
      return said.demo === true ? deeds.demo : deeds.received;
    case 'corrected': {
      const fields = Object.entries(said.fields).map(([field, value]) =>
        fieldWords(field, value, times),
      );
      return deeds.corrected(fields.filter((words) => words !== ''));
    }
    case 'opened':
      return said.on === null ? deeds.notOpened : deeds.opened(times.dateOf(said.on));
    case 'taken-out':
      return said.atWallMs === null ? deeds.notTakenOut : deeds['taken-out'];
    case 'recalled':
      return said.reason === '' ? deeds.recalled : deeds.recalledWhy(said.reason);
    case 'recall-lifted':
      return said.reason === undefined ? deeds['recall-lifted'] : deeds.liftedWhy(said.reason);
    default:
      return unreachable(said);
  }
}

/** What was done, and by whom, when and at which tablet. */
export function eventWords(
  { said, by, tablet, atWallMs }: StockEvent,
  o: { readonly times: Times; readonly thisTablet: string },
): { readonly deed: string; readonly done: string } {
  const words = stockHistoryWords;
  const where = tablet !== '' && tablet === o.thisTablet ? words.here : words.there(tablet);
  const done = { by: by ?? '', when: o.times.moment(atWallMs), where };
  return { deed: deedWords(said, o.times), done: words.done(done) };
}
