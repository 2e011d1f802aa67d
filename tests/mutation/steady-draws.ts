/** Property tests draw the same examples in every run, so that a mutant is not killed by luck. */
import fc from 'fast-check';

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: 1 });
