/** What leads to the page of the clinic's tablets. */
import { sharingLink } from './en/sharing-link.ts';
import { spoken } from './language.ts';

export const sharingLinkWords = spoken('sharingLink', sharingLink);
