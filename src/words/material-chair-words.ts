/** Words for naming lots at the chair. */
import { materialChair } from './en/material-chair.ts';
import { spoken } from './language.ts';

export const chairMaterialWords = spoken('materialChair', materialChair);
