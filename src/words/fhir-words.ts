/** What a person reads in a FHIR bundle. */
import { fhir } from './en/fhir.ts';
import { spoken } from './language.ts';

export const fhirWords = spoken('fhir', fhir);
