/** Words for what runs out before the prepared cases. */
import { shelfAhead } from './en/shelf-ahead.ts';
import { spoken } from './language.ts';

export const shelfAheadWords = spoken('shelfAhead', shelfAhead);
