import { card } from './en/card.ts';
import { spoken } from './language.ts';

export const cardWords = spoken('card', card);
