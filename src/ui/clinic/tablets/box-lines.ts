/** The text of the box in its lines, each with the number by which a wrong one is told. Pure. */

export const boxLines = (text: string): readonly { readonly at: number; readonly line: string }[] =>
  text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line, at) => ({ at: at + 1, line }));
