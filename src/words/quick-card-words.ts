import { quickCard } from './en/quick-card.ts';
import { spoken } from './language.ts';

export const quickCardWords = spoken('quickCard', quickCard);
