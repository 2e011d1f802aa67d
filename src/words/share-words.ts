import { share } from './en/share.ts';
import { spoken } from './language.ts';

export const shareWords = spoken('share', share);
