/** Words of the editor for what stands around the steps: cautions, ways back, sources, stages. */
import { around } from './en/around.ts';
import { spoken } from './language.ts';

export const aroundWords = spoken('around', around);
