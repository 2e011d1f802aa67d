/** Words of the form of one step: its sections, its evidence, its times, its place. */
import { stepForm } from './en/step-form.ts';
import { spoken } from './language.ts';

export const stepFormWords = spoken('stepForm', stepForm);
