import { otherClinics } from './en/other-clinics.ts';
import { spoken } from './language.ts';

export const otherClinicsWords = spoken('otherClinics', otherClinics);
