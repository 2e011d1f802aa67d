/**
 * A language made by the build for tests: English with accents, in brackets and 40 % longer. What is
 * drawn without brackets was never handed to a translator; what is cut has no room for another
 * language. The texts of `src/words/en` are changed where they stand, so that what is put into them
 * (teeth, titles, numbers) stays as it is.
 */
const LONGER_BY = 0.4;
const ACCENTED: Readonly<Record<string, string>> = Object.fromEntries(
  [...'aáeéiíoóuúyýcčdďnňrřsštťzžlĺAÁEÉIÍOÓUÚYÝCČDĎNŇRŘSŠTŤZŽLĹgĝGĜhĥHĤjĵJĴwŵWŴ'].reduce<
    [string, string][]
  >((pairs, letter, i, all) => {
    if (i % 2 === 0) pairs.push([letter, all[i + 1] ?? letter]);
    return pairs;
  }, []),
);

/** "Today" as "Ťóďáý": accents alone, of the same length. */
export function accented(text: string): string {
  return [...text].map((letter) => ACCENTED[letter] ?? letter).join('');
}

/** "Today" as "Ťóóďáý", without brackets. Letters grow inside words, so that lines break as ever. */
export function pseudoText(text: string): string {
  let owed = 0;
  return [...text]
    .map((letter) => {
      if (!/[a-z]/i.test(letter)) return letter;
      const changed = ACCENTED[letter] ?? letter;
      owed += LONGER_BY;
      if (owed < 1) return changed;
      owed -= 1;
      return changed + changed.toLowerCase();
    })
    .join('');
}
