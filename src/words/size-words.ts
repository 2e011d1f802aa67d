import { size } from './en/size.ts';
import { spoken } from './language.ts';

/** Words about what can be read from how far. */
export const sizeWords = spoken('size', size);
