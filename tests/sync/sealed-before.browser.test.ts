/** In a browser, what was sealed in Node. */
import { opensWhatWasSealedBefore } from './sealed-before-opens.ts';

opensWhatWasSealedBefore(crypto);
