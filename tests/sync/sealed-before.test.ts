/** In Node. */
import { platform } from './clinic.ts';
import { opensWhatWasSealedBefore } from './sealed-before-opens.ts';

opensWhatWasSealedBefore(platform);
