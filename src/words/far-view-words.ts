import { farView } from './en/far-view.ts';
import { spoken } from './language.ts';

export const farViewWords = spoken('farView', farView);
