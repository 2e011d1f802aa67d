/** Words for the history of a box. */
import { stockHistory } from './en/stock-history.ts';
import { spoken } from './language.ts';

export const stockHistoryWords = spoken('stockHistory', stockHistory);
