/** The clinic of the tests: in the zone of the machine that runs them, whichever that is. */
import { timesIn } from '../../src/words/date-words.ts';

export const ZONE = new Intl.DateTimeFormat().resolvedOptions().timeZone;

export const HERE = timesIn({ zone: ZONE, language: 'en' });
