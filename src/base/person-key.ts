/** Who is the same person by name: dots, blanks, capitals and the width of a letter make no other one. Empty where no letter is left. */
export const personKey = (name: string): string =>
  name
    .normalize('NFKC')
    .replaceAll(/[^\p{L}\p{M}\p{N}]/gu, '')
    .toLowerCase();
