/** Words of drills: how a mishap is called, and what happened in a run. */
import { drill } from './en/drill.ts';
import { spoken } from './language.ts';

export const drillWords = spoken('drill', drill);
