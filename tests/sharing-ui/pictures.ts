/** Pictures of every state of sharing, lying and upright, into .screens/sharing: `npx tsx tests/sharing-ui/pictures.ts [NAME]`. */
import { drawStates } from './draw-states.ts';

await drawStates(process.argv[2] ?? '');
