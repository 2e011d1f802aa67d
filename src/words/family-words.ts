/** Words of the editor for what a protocol says of itself, and for what its parts depend on. */
import { family } from './en/family.ts';
import { spoken } from './language.ts';

export const familyWords = spoken('family', family);
